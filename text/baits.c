/* baits.c -- see baits.h. */
#include "text/baits.h"

#include <string.h>

typedef struct bfi_baits_told told;

static const bf_section sections[] = {BF_ROWS("baits", bf_bait_table, told, bait, BFI_KIT_BAITS, n)};
static const bf_schema schema = {"question", sizeof(told), sections, 1};

bf_status bfi_baits_read(bfi_ask *ask, const char *const *others, bfi_baits *baits) {
    bf_fault fault;
    bf_schema_start(&schema, &baits->told);
    bf_status status = bfi_read_record(&baits->reader, &ask->json, &schema, &baits->told, others,
                                       &baits->names, &ask->error);
    if (status) return status;
    status = bf_schema_check(&schema, &baits->told, &fault);
    return status ? bfi_fail_fault(&ask->error, &baits->names, &fault) : BF_OK;
}

const bf_bait *bfi_baits_find(const bfi_baits *baits, const char *name) {
    for (int i = 0; i < baits->told.n; i++)
        if (strcmp(bfi_name_of(&baits->names, sections, i), name) == 0) return &baits->told.bait[i];
    int i = bf_catalogue_find(name, strlen(name));
    return i < 0 ? NULL : &bf_catalogue[i].bait;
}
