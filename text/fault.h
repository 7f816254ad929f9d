/* fault.h -- what is wrong with a request, as one sentence with field, value and what is accepted. Internal to text/. */
#ifndef BFI_FAULT_H
#define BFI_FAULT_H

#include "baitfall/field.h"
#include "baitfall/json.h"
#include "text/write.h"

/* Why text is no JSON, as an error. whole: what the text is, "The request". */
bf_status bfi_fail_json(bf_error *error, const char *whole, const bf_json *json, const bf_json_fault *fault);

/* A fault that bf_schema_check or a check of the core found. names: for references, may be NULL. */
bf_status bfi_fail_fault(bf_error *error, const bfi_names *names, const bf_fault *fault);

/* The same, when it is not the field's table that says what is accepted. */
bf_status bfi_fail_fault_words(bf_error *error, const bfi_names *names, const bf_fault *fault,
                               const char *accepted);

/* The same about the field's "give or take". */
bf_status bfi_fail_pm(bf_error *error, const bfi_names *names, const bf_fault *fault);

/* Anything else about a value at a path; value -1: there is none. accepted: words, "" when there is nothing to say. */
bf_status bfi_fail(bf_error *error, bf_status status, const char *path, const bf_json *json, int value,
                   const char *accepted);

/* ---- Pieces of sentences ---- */

/* One word of a list: "a", ", b", " or c". */
void bfi_put_word(bfi_pen *pen, const char *word, int is_first, int is_last);

/* All words of a NULL-ended list: "dry, glazed or soaked". */
void bfi_put_words(bfi_pen *pen, const char *const *words);

/* What a field, or its "give or take", accepts: "5 cm to 12 m", with its units when says_units is set. */
void bfi_put_accepted(bfi_pen *pen, const bfi_names *names, const bf_field *field, int is_pm, int says_units);

/* 1 for an error after which the units help: a wrong unit or type, text that is no quantity. */
int bfi_says_units(bf_status status);

#endif
