/* json.h -- reading JSON into tokens in caller memory, and the one shape of an error.
 *
 * The bytes are first checked against the grammar (RFC 8259) and UTF-8, then cut into tokens (jsmn), then searched for
 * keys given twice. Stricter than the RFC in four points: the root is an object, nesting ends at BF_JSON_NEST_MOST, a
 * key stands once in an object, and the character U+0000 and lone surrogates are refused.
 *
 * A value is named by its token's index: 0 is the root; the value of a key is the key's index + 1.
 *
 * Pure. Time grows as n log n at worst, for any bytes. Tests: tests/text/json_test.c, tests/fuzz/json_fuzz.c
 */
#ifndef BAITFALL_JSON_H
#define BAITFALL_JSON_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_JSON_BYTES_MOST 1048576 /* longer text is refused before it is looked at */
#define BF_JSON_NEST_MOST 16

typedef enum bf_json_kind {
    BF_JSON_OBJECT,
    BF_JSON_ARRAY,
    BF_JSON_STRING,
    BF_JSON_NUMBER,
    BF_JSON_TRUE,
    BF_JSON_FALSE,
    BF_JSON_NULL
} bf_json_kind;

/* Text that has been read. Points into the caller's text and memory: both must stay as they are. */
typedef struct bf_json {
    const char *text;
    size_t n;
    void *tokens;
    int *after; /* (n_tokens) index of the first token behind each one's subtree */
    int n_tokens;
    size_t n_steps; /* bytes and tokens looked at; diagnostic */
} bf_json;

/* Why text was refused. */
typedef struct bf_json_fault {
    bf_status status;
    size_t at;          /* byte, counted from 0; its token for BF_E_TWICE                          */
    int token;          /* BF_E_TWICE: the second key; else -1                                     */
    const char *wanted; /* what is due there: "a comma or }"; static, never NULL on error          */
} bf_json_fault;

/* Bytes of memory, 8-aligned, for text of at most so many tokens (values and keys together). */
size_t bf_json_bytes(int most_tokens);

/* Reads n bytes of text.
 *
 * memory  bf_json_bytes(most_tokens)
 * *json   valid on BF_OK and BF_E_TWICE
 *
 * Returns BF_OK, BF_E_SYNTAX, BF_E_TWICE, BF_E_SPACE (too long, too deep, too many values); *fault is always written. */
BF_CHECK bf_status bf_json_read(const char *text, size_t n, void *memory, int most_tokens, bf_json *json,
                                bf_json_fault *fault);

bf_json_kind bf_json_kind_of(const bf_json *json, int value);

/* First element of an array, first key of an object; -1: empty. */
int bf_json_first(const bf_json *json, int value);

/* The element or key after this one in its array or object, -1: it was the last. */
int bf_json_next(const bf_json *json, int element);

/* The value of a key in an object, -1: not there. */
int bf_json_find(const bf_json *json, int object, const char *key);

/* The bytes of a value as they stand in the text, quotes of a string included. */
const char *bf_json_raw(const bf_json *json, int value, size_t *n);

/* A string or key, decoded to UTF-8 and ended with a NUL. Longer than `most` - 1 bytes: cut before a character,
 * BF_E_SPACE. Returns BF_OK or BF_E_SPACE. */
BF_CHECK bf_status bf_json_string(const bf_json *json, int string, char *out, size_t most);

/* The same for the n bytes between the quotes of a string that was read before. */
BF_CHECK bf_status bf_json_decode(const char *inside, size_t n, char *out, size_t most);

/* 1 when a string or key decodes to exactly this text. */
int bf_json_is(const bf_json *json, int string, const char *text);

/* The number of a BF_JSON_NUMBER; BF_OK or BF_E_NOT_FINITE (NaN). */
BF_CHECK bf_status bf_json_number(const bf_json *json, int value, double *number);

/* Where a value stands: "feed[3].count"; "" for the root. Cut when longer than `most` - 1. */
void bf_json_path(const bf_json *json, int value, char *out, size_t most);

/* What was wrong, ready for people and programs. All text UTF-8 with a NUL; "" where it does not apply. */
typedef struct bf_error {
    bf_status status;
    char field[128];    /* path of the field: "water.depth_m"                               */
    char value[128];    /* the offending value as JSON: "-1", "\"4 mm\""; cut values end in ... */
    char accepted[512]; /* "5 cm to 12 m"                                                   */
    char text[1024];    /* the whole sentence: "water.depth_m is -1 m; accepted is 5 cm to 12 m." */
} bf_error;

/* The short word for a status in error objects: "range", "unit", "key" ...; "ok" for BF_OK. Static. */
const char *bf_status_slug(bf_status status);

#ifdef __cplusplus
}
#endif
#endif
