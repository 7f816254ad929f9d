/* read_parts.h -- what the files that read a record share: read.c (places), read_field.c (values), named.c (names). */
#ifndef BFI_READ_PARTS_H
#define BFI_READ_PARTS_H

#include "text/read.h"

#define BFI_PATH_MOST 128

/* ---- Names (named.c) ---- */

/* Gives a row the name at a value; each name once in an array. */
BF_CHECK bf_status bfi_add_name(bfi_reader *reader, const bf_section *section, int row, int value,
                                const char *path);

/* The row of the array section at `list` that has the name a string decodes to, -1. */
int bfi_named_row(const bfi_reader *reader, const char *list, int string);

/* The record that a name stands for: the kit's, else the catalogue's, else NULL. Of the row of a kit itself only the
 * catalogue's. */
const void *bfi_named_record(const bfi_reader *reader, const bf_section *section, int string);
const void *bfi_catalogue_record(const bfi_reader *reader, const bf_table *table, int string);

/* Takes a thing that a plan names, of the catalogue or another list of the kit, into this list: its row, -1 when there is no
 * such or no room. */
int bfi_row_from_elsewhere(bfi_reader *reader, const char *list, int value);

/* Pots, catapults and aims that the request does not mention (read.h). */
void bfi_take_all_unnamed(bfi_reader *reader);

/* The same for the parts of an array's row, before its own keys are read: the aim at a spot. */
void bfi_take_unnamed_parts(bfi_reader *reader, const bf_section *section, int row);

/* All names there are for the thing of a section. */
void bfi_put_all_names(bfi_pen *pen, const bfi_reader *reader, const bf_section *section);

/* The first section at a path, NULL. */
const bf_section *bfi_first_section(const bf_schema *schema, const char *path);

/* ---- Fields (read_field.c) ---- */

/* Reads a value into a field of a row, or into its "give or take". */
BF_CHECK bf_status bfi_read_field(bfi_reader *reader, const bf_section *section, int row, int i_field,
                                  int is_pm, int value);

/* "Give or take" without a value says nothing, and it may be no wider than the field. */
BF_CHECK bf_status bfi_check_pm(bfi_reader *reader, const bf_section *section, int row, int i_field);

#endif
