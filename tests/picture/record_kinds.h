/* record_kinds.h -- the six drawings of the record by one name each, for the checks that ask the same of all of them. */
#ifndef BAITFALL_TESTS_RECORD_KINDS_H
#define BAITFALL_TESTS_RECORD_KINDS_H

#include "record_scenes.h"

static scene_timeline kind_timeline_scene;
static scene_waits kind_waits_scene;
static scene_catch kind_catch_scene;
static scene_sheet kind_sheet_scene;
static bf_dots_view kind_dots_view;
static bf_change_view kind_change_view;

static inline bf_status kind_timeline(int n, int look, char *svg, size_t most, bf_picture *picture) {
    scene_timeline_random(n, &kind_timeline_scene);
    if (look) kind_timeline_scene.view.look = look;
    return bf_picture_timeline(&kind_timeline_scene.view, svg, most, picture);
}

static inline bf_status kind_waits(int n, int look, char *svg, size_t most, bf_picture *picture) {
    scene_waits_random(n, &kind_waits_scene);
    if (look) kind_waits_scene.view.look = look;
    return bf_picture_waits(&kind_waits_scene.view, svg, most, picture);
}

static inline bf_status kind_catch(int n, int look, char *svg, size_t most, bf_picture *picture) {
    scene_catch_random(n, &kind_catch_scene);
    if (look) kind_catch_scene.view.look = look;
    return bf_picture_catch(&kind_catch_scene.view, svg, most, picture);
}

static inline bf_status kind_dots(int n, int look, char *svg, size_t most, bf_picture *picture) {
    scene_dots_random(n, &kind_dots_view);
    if (look) kind_dots_view.look = look;
    return bf_picture_dots(&kind_dots_view, svg, most, picture);
}

static inline bf_status kind_change(int n, int look, char *svg, size_t most, bf_picture *picture) {
    scene_change_random(n, &kind_change_view);
    if (look) kind_change_view.look = look;
    return bf_picture_change(&kind_change_view, svg, most, picture);
}

/* The sheet has a look of its own. */
static inline bf_status kind_sheet(int n, int look, char *svg, size_t most, bf_picture *picture) {
    (void)look;
    scene_sheet_random(n, &kind_sheet_scene);
    return bf_picture_sheet(&kind_sheet_scene.view, svg, most, picture);
}

typedef struct record_kind {
    const char *name;
    /* The picture of random scene n; look 0: the scene's own. */
    bf_status (*draw)(int n, int look, char *svg, size_t most, bf_picture *picture);
} record_kind;

#define N_RECORD_KINDS 6
static const record_kind record_kinds[N_RECORD_KINDS] = {{"timeline", kind_timeline}, {"waits", kind_waits},
                                                         {"catch", kind_catch},       {"dots", kind_dots},
                                                         {"change", kind_change},     {"sheet", kind_sheet}};

#endif
