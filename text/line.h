/* line.h -- what the files about journals share. Internal to text/. */
#ifndef BFI_LINE_H
#define BFI_LINE_H

#include "baitfall/journal.h"
#include "text/write.h"

#define BFI_NOTE_MOST 16384 /* bytes of a note */

/* The note of a canonical line, decoded and cut to most - 1 bytes; "" when it has none. */
void bfi_line_note(const char *canonical, size_t n, char *out, size_t most);

/* 8 hex digits of a device or run, and back; BF_E_SYNTAX. */
BF_CHECK bf_status bfi_word_read(const char *text, size_t n, uint32_t *word);
void bfi_word_write(uint32_t word, char out[9]);

/* A body as the members of the open object, in canonical form: names by their text, instants by an offset.
 * names(user, i): the text of name i. */
void bfi_json_body(bfi_json *json, const bf_body *body, int east_min,
                   const char *(*name)(const void *user, int i), const void *user);

#endif
