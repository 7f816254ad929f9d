/* write.h -- JSON written piece by piece into a caller's buffer. Internal to text/.
 *
 * Commas and colons come by themselves: open, keys and values, close. Nothing is ever written past the buffer; whoever
 * opened the writer asks bfi_json_done once at the end. */
#ifndef BFI_WRITE_H
#define BFI_WRITE_H

#include "baitfall/json.h"
#include "baitfall/picture.h"
#include "baitfall/unit.h"
#include "core/picture/svg.h"

#define BFI_WRITE_NEST_MOST 24

typedef struct bfi_json {
    bfi_pen pen;
    int depth;
    char closing[BFI_WRITE_NEST_MOST];
    int has_some[BFI_WRITE_NEST_MOST]; /* the open object or array has something in it */
    int is_value_due;                  /* a key was written                            */
    int east_min; /* the clock by which instants of records are written: minutes east of UTC */
} bfi_json;

/* most: bytes of out, 1 or more. */
bfi_json bfi_json_open(char *out, size_t most);
/* BF_OK and the length without the ending 0; BF_E_SPACE: it did not fit, out is "". All must be closed. */
BF_CHECK bf_status bfi_json_done(bfi_json *json, size_t *n);

void bfi_json_object(bfi_json *json);
void bfi_json_array(bfi_json *json);
void bfi_json_close(bfi_json *json); /* the innermost */
void bfi_json_key(bfi_json *json, const char *key);
void bfi_json_text(bfi_json *json, const char *text);           /* UTF-8, ended by a 0 byte; escaped */
void bfi_json_real(bfi_json *json, double number);              /* not finite: null */
void bfi_json_truth(bfi_json *json, int truth);                 /* true or false */
void bfi_json_raw(bfi_json *json, const char *value, size_t n); /* one JSON value as it stands */

/* key and value in one go */
void bfi_json_key_text(bfi_json *json, const char *key, const char *text);
void bfi_json_key_real(bfi_json *json, const char *key, double number);
void bfi_json_instant(bfi_json *json, const char *key, double ms, int east_min); /* null for NaN */

/* "key":{"nominal","mid","lo","hi","text"} of a computed quantity; left open, so that more may follow. */
void bfi_json_range(bfi_json *json, const char *key, bf_range range, bf_dimension dimension);
/* The same of a field's value, under its name; nothing but a nominal value is said alone. */
void bfi_json_range_of(bfi_json *json, const bf_field *field, bf_range range);

/* key:{"svg","finding","table":[[what, how much]]} of a drawing. */
void bfi_json_picture(bfi_json *json, const char *key, const char *svg, const bf_picture *picture);

/* {"schema":1,"error":{...}}, whole. */
BF_CHECK bf_status bfi_json_error(const bf_error *error, char *out, size_t most, size_t *n);

/* ---- Names of things: ids of a request, kept outside the records ---- */

/* More than the rows of a plan (16 baits, 16 hook baits, 8 pots, 8 throws, 8 elastics, 16 rigs, 8 spots, 32 lines, 16 in the
 * box) and what is named alone. */
#define BFI_NAMES_MOST 160

typedef struct bfi_name {
    const bf_section *section;
    int row;
    bf_label text;
} bfi_name;

typedef struct bfi_names {
    int n;
    bfi_name name[BFI_NAMES_MOST];
} bfi_names;

/* The name of a row; "" when it has none. names: may be NULL. */
const char *bfi_name_of(const bfi_names *names, const bf_section *section, int row);

/* All fields of one row of a section as keys of the object that is open: SI, "give or take" always said, "don't know"
 * as text, things not given left out. */
void bfi_json_fields(bfi_json *json, const bf_schema *schema, const bfi_names *names,
                     const bf_section *section, const void *record, int row);

/* The whole record as an object, nested by the sections' paths; ids of named rows first. Reading it back gives the same
 * record. */
void bfi_json_record(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record);
/* The same left open, so that more may follow. */
void bfi_json_record_open(bfi_json *json, const bf_schema *schema, const bfi_names *names,
                          const void *record);

/* "depth_pm_m" for field "depth_m": the key of its "give or take". */
#define BFI_KEY_MOST 64
void bfi_pm_key(const bf_field *field, char key[BFI_KEY_MOST]);

/* "water.depth_m", "feed[3].count"; is_pm: of its "give or take". Cut when too long. */
void bfi_field_path(const bf_section *section, int row, int field, int is_pm, char *out, size_t most);

/* The same for what a fault is about: "kit.rigs[2].shots[0].above_hook_m". */
void bfi_fault_path(const bf_fault *fault, int is_pm, char *out, size_t most);

/* A number for people with so many figures or all its whole digits; zeros at the end of decimals left out. */
void bfi_put_figures(bfi_pen *pen, double number, int figures);

/* Copies as much text as fits, cut before a character. */
void bfi_cut(char *out, size_t most, const char *text, size_t n);

#endif
