#include "wasm/area.h"

#include <string.h>

wasm_area area;

char *in_at(void) {
    return area.in;
}

size_t in_most(void) {
    return IN_MOST;
}

char *out_at(void) {
    return area.out;
}

size_t out_n(void) {
    return area.n_out;
}

const char *area_name(size_t n_name, size_t n_json) {
    static char name[NAME_MOST + 1];
    if (n_name > NAME_MOST || n_json > IN_MOST - n_name) __builtin_trap();
    memcpy(name, area.in, n_name);
    name[n_name] = 0;
    return name;
}
