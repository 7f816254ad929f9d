/* stood.h -- members of an answer about a stand that the commands rig, lay and aim share with a plan. Internal to text/. */
#ifndef BFI_STOOD_H
#define BFI_STOOD_H

#include "baitfall/aim.h"
#include "text/said.h"

/* "chain":[{"part","holds_n","gives_first_frac"}]; nothing when the elastic is none. */
void bfi_json_chain(bfi_json *out, const bf_rig *rig);

/* "chance":{"within_5cm","within_10cm","within_15cm","text"} from the rows of an aim ensemble. */
void bfi_json_chance(bfi_json *out, const double *rows, int n_rows);

/* "fit_error_m"; null when every draw was solved. */
void bfi_json_fit(bfi_json *out, const bf_aiming *aiming);

/* "mend":[{"input","text","share_frac","miss_50_m","miss_90_m","gain_m"}], best first. work: bf_aim_mend_bytes. */
void bfi_json_mends(bfi_json *out, const bf_mend mends[], int n);

#endif
