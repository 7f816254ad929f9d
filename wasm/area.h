/* area.h -- what the page's two modules share: where a question is written, and where its answer is read.
 *
 * The page writes the name of a question and behind it the request, both UTF-8, at in_at() (together at most in_most()
 * bytes), calls a function, and reads the JSON at out_at(), out_n() bytes.
 * The modules import nothing. */
#ifndef BAITFALL_WASM_AREA_H
#define BAITFALL_WASM_AREA_H

#include <stddef.h>

#include "baitfall/json.h"

#define EXPORT(name) __attribute__((export_name(#name))) extern

#define NAME_MOST 32
#define IN_MOST (NAME_MOST + BF_JSON_BYTES_MOST + 1) /* one more than accepted: too long is said, not cut */
#define OUT_MOST (4u << 20)

typedef struct {
    char in[IN_MOST];
    char out[OUT_MOST];
    size_t n_out; /* bytes of the last answer */
} wasm_area;
extern wasm_area area;

EXPORT(in_at) char *in_at(void);
EXPORT(in_most) size_t in_most(void);
EXPORT(out_at) char *out_at(void);
EXPORT(out_n) size_t out_n(void);

/* The name that stands at in_at(), ended by a 0 byte, until it is asked for again; the request is at area.in + n_name. Lengths that
 * cannot be trap. */
const char *area_name(size_t n_name, size_t n_json);

#endif
