/* field.h -- every input and output record described once, by a table of fields.
 *
 * From a table come reading and writing JSON, the range check with its sentence, `--set`, the page's forms
 * and docs/formats.md. A record is flat: doubles, ints, quantities and fixed arrays with a count; no
 * pointers, no strings. Names and ids stay outside the core, which refers to things by index.
 *
 * A field's name ends in its SI unit ("depth_m"); its "give or take" key has `_pm` before the unit
 * ("depth_pm_m"), and the name without the unit ("depth") is understood as well; a ratio's unit is `_frac`.
 */
#ifndef BAITFALL_FIELD_H
#define BAITFALL_FIELD_H

#include <stddef.h>
#include <stdint.h>

#include "baitfall/quantity.h"
#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What a number measures: decides which units its text may carry and which suffix its name has. */
typedef enum bf_dimension {
    BF_PURE,        /* no unit: counts have kind BF_INT; ratios end in _frac */
    BF_LENGTH,      /* _m      */
    BF_AREA,        /* _m2     */
    BF_VOLUME,      /* _m3     */
    BF_MASS,        /* _kg     */
    BF_DENSITY,     /* _kg_m3  */
    BF_TIME,        /* _s      */
    BF_TEMPERATURE, /* _c      */
    BF_SPEED,       /* _m_s    */
    BF_ANGLE,       /* _deg    */
    BF_FORCE,       /* _n      */
    BF_VISCOSITY,   /* _pa_s   */
    BF_TENSION,     /* _n_m    */
    BF_PRESSURE,    /* _pa     */
    BF_N_DIMENSIONS
} bf_dimension;

/* The name's unit suffix for a dimension, "_m" ...; "" for BF_PURE. Static text. */
const char *bf_dimension_suffix(bf_dimension dimension);

typedef enum bf_kind {
    BF_REAL,     /* double                                                             */
    BF_QUANTITY, /* bf_quantity: value, give or take, don't know                       */
    BF_INT,      /* int                                                                */
    BF_CHOICE,   /* int: index into `words`                                            */
    BF_REF,      /* int: index into the list of things named by `words[0]`, -1: none   */
    BF_LIST,     /* bf_list: up to 40 numbers of one dimension                         */
    BF_INSTANT   /* double: whole milliseconds since 1970-01-01 UTC; RFC 3339 as text  */
} bf_kind;

/* Up to BF_LIST_MOST numbers, such as the times of a drop test; each is checked against the field's range. */
#define BF_LIST_MOST 40
typedef struct bf_list {
    int n;
    double at[BF_LIST_MOST];
} bf_list;

typedef struct bf_field {
    const char *name; /* "depth_m"                                                            */
    bf_kind kind;
    size_t offset; /* of the member in its record                                          */
    bf_dimension dimension;
    double least, most; /* accepted, ends included                                              */
    double
        start; /* value when nothing is said; NaN: "don't know" (BF_QUANTITY), else "not given", which is NaN in
                        doubles and -1 in ints */
    double start_pm;                /* give or take when only a value is said (BF_QUANTITY)                 */
    double usual_least, usual_most; /* "don't know": uniform between these (BF_QUANTITY)              */
    const char *const *words;       /* NULL-ended (BF_CHOICE), or {list name, NULL} (BF_REF), else NULL     */
    const char *help;               /* one line: what it is, where the start value comes from               */
    int must;                       /* 1: an error when not given                                           */
} bf_field;

typedef struct bf_table {
    const char *name; /* "bait" */
    size_t bytes;     /* sizeof the record */
    const bf_field *field;
    int n_fields;
} bf_table;

/* Where a record of a table sits in a larger record: one section of a request or plan. Two sections may share
 * a name: a key is looked for in both. With most > 1 it is an array whose int count is at count_offset. */
typedef struct bf_section {
    const char *name; /* JSON path in the request: "water", "kit.baits" */
    const bf_table *table;
    size_t offset;
    int most;            /* 1: a single object                             */
    size_t count_offset; /* of the int count when most > 1                 */
    /* What each row of an array holds besides the fields of its table, as sections over the row: the "line" and "shots" of
     * "kit.rigs"; NULL: nothing. The sections of parts have none of their own. */
    const struct bf_schema *parts;
} bf_section;

typedef struct bf_schema {
    const char *name; /* "fall" */
    size_t bytes;     /* sizeof the whole record */
    const bf_section *section;
    int n_sections;
} bf_schema;

/* What was wrong with data, exactly enough for text/ to write the sentence. All zero when fine. */
typedef struct bf_fault {
    bf_status status;
    const bf_section *section; /* NULL: not about a field */
    int row;                   /* index in an array section, else 0 */
    int field;                 /* index in section->table, -1: the whole section */
    double value;              /* the offending value, NaN when there is none */
    const bf_section *within;  /* the array whose row `section` is a part of, else NULL */
    int within_row;
} bf_fault;

/* Fills a record with every field's start value: quantities with start_pm, or as "don't know" when start is
 * NaN; lists empty; references -1. */
void bf_record_start(const bf_table *table, void *record);

/* Fills every section of a schema: single ones by bf_record_start, arrays with count 0. */
void bf_schema_start(const bf_schema *schema, void *record);

/* Fills one row of a section, with its parts. */
void bf_row_start(const bf_section *section, void *record, int row);

/* Checks one record against its table: NaN before range, first failing field wins. A value may be "not given"
 * only where its start is NaN and `must` is 0; a quantity never. A value with `must` that is still
 * NaN, "don't know" by start, empty or -1 is BF_E_MISSING. Returns BF_OK, BF_E_MISSING, BF_E_NOT_FINITE,
 * BF_E_RANGE or BF_E_CHOICE; *i_field and *value (may be NULL) say where. */
BF_CHECK bf_status bf_record_check(const bf_table *table, const void *record, int *i_field, double *value);

/* The same for one field; member: where it is. *value is always written, NaN when there is none to name. */
BF_CHECK bf_status bf_field_check(const bf_field *field, const void *member, double *value);

/* 1 when a member holds something: not NaN, -1, empty or "don't know". */
int bf_field_is_given(const bf_field *field, const void *member);

/* Checks one row of a section, with its parts; *fault is always written. */
BF_CHECK bf_status bf_row_check(const bf_section *section, const void *record, int row, bf_fault *fault);

/* Checks every row of every section; *fault is always written. */
BF_CHECK bf_status bf_schema_check(const bf_schema *schema, const void *record, bf_fault *fault);

/* Number of live rows of a section in a record (1 for a single one) and the address of a row. */
int bf_section_count(const bf_section *section, const void *record);
void *bf_section_row(const bf_section *section, void *record, int row);
const void *bf_section_row_const(const bf_section *section, const void *record, int row);

/* What a field's name ends in to say its unit: the dimension's suffix, "_frac" for a ratio, "" for other pure
 * numbers. Static text. Its "give or take" key has "_pm" before it. */
const char *bf_field_suffix(const bf_field *field);

/* Index of the field called `name` (n bytes, with or without the unit suffix), or -1. Sets *is_pm to 1 when
 * the name is the field's "give or take" key. */
int bf_field_find(const bf_table *table, const char *name, size_t n, int *is_pm);

/* Shorthands for tables. The last argument is the help line. */
#define BF_Q(record, member, dim, least, most, start, pm, u0, u1, help)                                      \
    { #member, BF_QUANTITY, offsetof(record, member), dim, least, most, start, pm, u0, u1, 0, help, 0 }
#define BF_R(record, member, dim, least, most, start, help)                                                  \
    { #member, BF_REAL, offsetof(record, member), dim, least, most, start, 0, least, most, 0, help, 0 }
#define BF_I(record, member, least, most, start, help)                                                       \
    { #member, BF_INT, offsetof(record, member), BF_PURE, least, most, start, 0, least, most, 0, help, 0 }
#define BF_L(record, member, dim, least, most, help)                                                         \
    { #member, BF_LIST, offsetof(record, member), dim, least, most, BF_NAN, 0, least, most, 0, help, 0 }
#define BF_W(record, member, words, n_words, start, help)                                                    \
    { #member, BF_CHOICE, offsetof(record, member), BF_PURE, 0, (n_words)-1, start, 0, 0, 0, words, help, 0 }
#define BF_TABLE(name, record, fields)                                                                       \
    { name, sizeof(record), fields, (int)(sizeof(fields) / sizeof((fields)[0])) }

/* A single section of a record, one that is an array, one whose rows have parts, and a schema of an array of sections. */
#define BF_SECTION(name, table, record, member)                                                              \
    { name, &(table), offsetof(record, member), 1, 0, NULL }
#define BF_ROWS(name, table, record, member, most, count)                                                    \
    { name, &(table), offsetof(record, member), most, offsetof(record, count), NULL }
#define BF_ROWS_OF(name, table, record, member, most, count, parts)                                          \
    { name, &(table), offsetof(record, member), most, offsetof(record, count), &(parts) }
#define BF_SCHEMA(name, record, sections)                                                                    \
    { name, sizeof(record), sections, (int)(sizeof(sections) / sizeof((sections)[0])) }

/* Instants that are accepted: 1900-01-02 to 9999-12-30, so that the year has four digits by any local clock.
 * */
#define BF_INSTANT_LEAST_MS (-2208902400000.0)
#define BF_INSTANT_MOST_MS 253402214399999.0

#define BF_NAN (__builtin_nan(""))
#define BF_INFINITY (__builtin_inf())

#ifdef __cplusplus
}
#endif
#endif
