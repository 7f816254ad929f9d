/* json_at.h -- looking into JSON by a path of keys and places: "nets/0/mass_kg/mid". Test code only. */
#ifndef BAITFALL_TESTS_JSON_AT_H
#define BAITFALL_TESTS_JSON_AT_H

#include "baitfall/json.h"
#include "common/check.h"

static inline int json_at(const bf_json *json, const char *path) {
    int value = 0;
    for (const char *from = path; *from;) {
        char key[64];
        size_t n = strcspn(from, "/");
        memcpy(key, from, n);
        key[n] = 0;
        if (bf_json_kind_of(json, value) == BF_JSON_ARRAY) {
            value = bf_json_first(json, value);
            for (int i = atoi(key); i > 0 && value >= 0; i--) value = bf_json_next(json, value);
        } else {
            value = bf_json_find(json, value, key);
        }
        if (value < 0) {
            size_t n_all;
            const char *all = bf_json_raw(json, 0, &n_all);
            fail_msg("no %s of %s in %.*s", key, path, (int)(n_all < 3000 ? n_all : 3000), all);
        }
        from += n + (from[n] == '/');
    }
    return value;
}

static inline const char *json_text_at(const bf_json *json, const char *path) {
    static char text[4096];
    assert_int_equal(bf_json_string(json, json_at(json, path), text, sizeof text), BF_OK);
    return text;
}

static inline double json_number_at(const bf_json *json, const char *path) {
    double number;
    assert_int_equal(bf_json_number(json, json_at(json, path), &number), BF_OK);
    return number;
}

#endif
