/* read.h -- reading a record from JSON by its schema. Internal to text/.
 *
 * Keys are found by the field tables, with or without their unit suffix, and may stand in any order. A section that is
 * an array takes an array of objects, whose "id" names the row; "name" and, in the kit, "was" (values measured before)
 * are let through. A thing that has names (a bait, a pot, a catapult, a rig, an elastic, an aim) may be given by its
 * name in place of an object, or as an object with "id" and the fields that differ: names are looked up in the request's kit first, a hook
 * bait's in its hook baits and then in its baits, then in the catalogue. A pot, a catapult or an aim that is not mentioned is the kit's "my pot",
 * "my catapult" or "my aim", else the only one of the kit, else it has its start values. */
#ifndef BFI_READ_H
#define BFI_READ_H

#include "baitfall/field.h"
#include "baitfall/json.h"
#include "text/fault.h"
#include "text/write.h"

#define BFI_RECORD_MOST 65536 /* bytes of a record that can be read */

typedef struct bfi_reader {
    const bf_json *json;
    const bf_schema *schema;
    void *record; /* started; written as keys are read */
    /* The schema and record of the request, in which names are looked up; the same as above but while the parts of an array's
     * row are read. */
    const bf_schema *whole;
    void *whole_record;
    const bf_section *within; /* the array, else NULL */
    int within_row;
    const char *const
        *others; /* NULL-ended paths ("seed", "kit.rigs") that the caller reads itself or lets through */
    bfi_names *names;
    bf_error *error;
    /* Members already said: one bit for every 4 bytes of the record. */
    unsigned char seen[BFI_RECORD_MOST / 4 / 8];
} bfi_reader;

/* Reads the whole root object into the record: the kit first, then the rest. Ranges are not checked here. The first
 * error is put into *error. reader's memory need not be cleared. */
BF_CHECK bf_status bfi_read_record(bfi_reader *reader, const bf_json *json, const bf_schema *schema,
                                   void *record, const char *const *others, bfi_names *names,
                                   bf_error *error);

/* Reads one value as a field that stands alone (a member of no record): number or text with a unit, range checked.
 * path is said in errors. */
BF_CHECK bf_status bfi_read_quantity(const bf_json *json, int value, const char *path, const bf_field *field,
                                     bf_quantity *quantity, bf_error *error);

/* The index of a word in a NULL-ended list; BF_E_TYPE or BF_E_CHOICE. */
BF_CHECK bf_status bfi_read_choice(const bf_json *json, int value, const char *path, const char *const *words,
                                   int *choice, bf_error *error);

/* Reads a value into a member of kind BF_REAL, BF_INT, BF_CHOICE or BF_INSTANT; the member stays as it was on an error. The
 * range of a BF_REAL is not checked here. */
BF_CHECK bf_status bfi_read_plain(const bf_json *json, int value, const bf_field *field, void *member);

#endif
