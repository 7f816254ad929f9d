/* bed_day.h -- a made-up day that the question "bed" is put to, and paths into its answer. Test code only. */
#ifndef BAITFALL_TESTS_BED_DAY_H
#define BAITFALL_TESTS_BED_DAY_H

#include "common/json_at.h"
#include "text/asked.h"

/* Few particles answer fast; the numbers behind a claim here do not depend on how many there are. */
#define QUICK "\"sets\":4,\"particles\":64"

static asked a;

static inline void line(double at_s, const char *kind, const char *body) {
    asked_line(&a, at_s, kind, body, "");
}

static inline void new_day(void) {
    if (!a.memory) a = asked_start();
    a.journal = bf_journal_start(a.memory, ASKED_EVENTS, (size_t)ASKED_EVENTS * 300);
    a.seq = 0;
    line(0, "open", "\"venue\":\"Withy Pool\",\"peg\":\"14\",\"hook_bait\":\"hard-6\"");
}

static inline void made_day(void) {
    new_day();
    line(5, "water", "\"temp_c\":14");
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
    line(120, "lower", "\"spot\":\"long\",\"hook_bait\":\"hard-6\"");
    line(260, "touch", "\"n\":2");
    line(400, "lift", "\"outcome\":\"landed\"");
    line(460, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
    line(520, "lower", "\"spot\":\"long\",\"hook_bait\":\"hard-6\"");
    line(800, "lift", "\"outcome\":\"missed\"");
    line(860, "feed", "\"spot\":\"short\",\"bait\":\"hard-6\",\"count\":6,\"how\":\"hand\"");
    line(900, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":20,\"how\":\"sprinkle\"");
    line(960, "lower", "\"spot\":\"long\",\"hook_bait\":\"hard-6\"");
}

static inline const char *instant(double at_s) {
    static char at[BF_INSTANT_BYTES];
    bf_instant_write(1775984400000.0 + 1000 * at_s, 0, at);
    return at;
}

static inline bf_status bed(const char *more) {
    char request[8192 + 64];
    snprintf(request, sizeof request, "{" QUICK "%s}", more);
    return asked_ask(&a, "bed", request);
}

static inline void bed_at(double at_s, const char *more) {
    char with[8192];
    snprintf(with, sizeof with, ",\"at\":\"%s\"%s", instant(at_s), more);
    if (bed(with)) fail_msg("%.1000s", a.answer);
}

static inline double number(const char *path) {
    return json_number_at(&a.json, path);
}

static inline const char *text(const char *path) {
    return json_text_at(&a.json, path);
}

static inline int length(const char *path) {
    int n = 0;
    for (int i = bf_json_first(&a.json, json_at(&a.json, path)); i >= 0; i = bf_json_next(&a.json, i)) n++;
    return n;
}

static inline void check_error(const char *field, const char *words) {
    assert_string_equal(text("error/field"), field);
    if (!strstr(text("error/text"), words)) fail_msg("%s does not say %s", text("error/text"), words);
}

static inline void end_day(void) {
    asked_free(&a);
}

#endif
