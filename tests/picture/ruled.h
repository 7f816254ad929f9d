/* ruled.h -- every class that a picture names has a rule in the stylesheet, except those that only say what a thing is. */
#ifndef BAITFALL_TESTS_RULED_H
#define BAITFALL_TESTS_RULED_H

#include <string.h>

#include "baitfall/picture.h"
#include "common/check.h"

static inline void check_classes_ruled(const char *svg, const char *name) {
    for (const char *at = svg; (at = strstr(at, "bf-")); at += 3) {
        if (at[-1] != '"' && at[-1] != ' ') continue;
        char rule[40];
        int length = (int)strcspn(at, " \"");
        snprintf(rule, sizeof rule, ".%.*s ", length, at);
        int is_id = strncmp(at + length - 6, "-title", 6) == 0 || strncmp(at + length - 5, "-desc", 5) == 0;
        if (is_id || strcmp(rule, ".bf-label ") == 0) continue;
        if (!strstr(bf_picture_css, rule)) fail_msg("%s: no rule for %s", name, rule);
    }
}

#endif
