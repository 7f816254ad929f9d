#include "baitfall/status.h"

const char *bf_status_words(bf_status status) {
    static const char *const words[] = {
#define STATUS_WORDS(name, text) text,
        BF_STATUS_LIST(STATUS_WORDS)
#undef STATUS_WORDS
    };
    BF_ASSERT(status >= 0 && status < BF_N_STATUS);
    return words[status];
}
