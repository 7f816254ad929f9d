/* told.h -- how review, season and trial put their findings: sentences, small tables for people, estimates. Internal to
 * text/.
 *
 * "tables":[{"name","title","finding","heads":[..],"rows":[[..]]}]: every cell is text, ready to be read; a finding may be "". */
#ifndef BFI_TOLD_H
#define BFI_TOLD_H

#include "baitfall/rates.h"
#include "baitfall/waits.h"
#include "core/picture/words.h"
#include "text/record.h"

#define BFI_TOLD_BYTES 320
#define BFI_TOO_EARLY "too early to say"

/* A sentence being written. */
typedef struct bfi_told {
    char text[BFI_TOLD_BYTES];
    bfi_pen pen;
} bfi_told;
void bfi_told_start(bfi_told *told);

/* ---- Pieces ---- */

/* "5.1 (4-6.3)"; "too early to say" for NaN. */
void bfi_put_between(bfi_pen *pen, double mid, double lo, double hi);
void bfi_put_estimate(bfi_pen *pen, bf_estimate estimate);

/* "3 min 10 s (2 min 20 s-4 min)", "... and up)". */
void bfi_put_wait(bfi_pen *pen, bf_banded wait_s);

/* "0.7 (0.5-1)": a ratio to two figures. */
void bfi_put_ratio(bfi_pen *pen, bf_banded ratio);

/* A ratio to two figures, "over 20" where it is beyond that: "2.3 times". */
void bfi_put_times(bfi_pen *pen, double ratio);

/* A chance in tens: "7 in 10"; "under 1 in 10", "over 9 in 10". */
void bfi_put_in_ten(bfi_pen *pen, double p);

/* "7 in 10 (5-9)" */
void bfi_put_share(bfi_pen *pen, bf_estimate share);

/* "1 fish", "3 fish", "about 3.5 fish" from tallied stretches; likewise "bite", "bites". */
void bfi_put_so_many(bfi_pen *pen, double n, const char *one, const char *more);

/* By the local clock: "12 April 2026", short "12 Apr 2026". */
void bfi_put_date(bfi_pen *pen, double ms, int east_min, int is_short);

/* By bf_how: "tipped", "shaken out", "by catapult", "by hand". */
extern const char *const bfi_how_said[];

/* Where a hook had hold, by bf_held: "top lip middle". */
extern const char *const bfi_held_said[];

/* January first. */
extern const char *const bfi_months[12];

/* "11:00-11:30" */
void bfi_put_hours(bfi_pen *pen, double from_ms, double to_ms, int east_min);

/* Where a text first has another in it; NULL: nowhere. */
const char *bfi_find_text(const char *text, const char *part);

/* ---- Members ---- */

/* A bait's short name (bf_bait_short), for the card and for a button. */
void bfi_label_short(bf_label *to, const char *id);
void bfi_json_short(bfi_json *out, const char *id);

/* key:{"mid","lo","hi","text"}; text as bfi_put_between */
void bfi_json_estimate(bfi_json *out, const char *key, double mid, double lo, double hi);

/* {"code","text"} in the open array */
void bfi_json_note(bfi_json *out, const char *code, const char *text);

/* A table: start, then rows of cells, then end; with a row open, cells are written by bfi_json_text or these. */
void bfi_table_start(bfi_json *out, const char *name, const char *title, const char *finding,
                     const char *const *heads);
void bfi_table_end(bfi_json *out);
void bfi_cell_count(bfi_json *out, double n);
void bfi_cell_told(bfi_json *out, const bfi_told *told);

#endif
