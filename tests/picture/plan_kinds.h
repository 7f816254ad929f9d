/* plan_kinds.h -- the drawings of a plan by one name each, for the checks that ask the same of all of them. */
#ifndef BAITFALL_TESTS_PLAN_KINDS_H
#define BAITFALL_TESTS_PLAN_KINDS_H

#include "plan_scenes.h"

static bf_section_view kind_section_view;
static bf_shotting_view kind_shotting_view;
static bf_card_view kind_card_view;
static scene_above kind_aimed_scene;

static inline bf_status kind_section(int n, int look, char *svg, size_t most, bf_picture *picture) {
    bf_labels labels;
    scene_labels(n, &labels);
    scene_section_random(n, &kind_section_view);
    if (look) kind_section_view.look = look;
    return bf_picture_section(&kind_section_view, &labels, svg, most, picture);
}

static inline bf_status kind_shotting(int n, int look, char *svg, size_t most, bf_picture *picture) {
    scene_rig_random(n, scene_scale(n, 700, 0.2, 10), &kind_shotting_view.rig);
    kind_shotting_view.look = look ? look : scene_pick(n, 701, 4);
    return bf_picture_shotting(&kind_shotting_view, svg, most, picture);
}

/* Where the feed lies with the cloud of the hook bait. */
static inline bf_status kind_aimed(int n, int look, char *svg, size_t most, bf_picture *picture) {
    bf_labels labels;
    scene_labels(n, &labels);
    scene_aimed_random(n, &kind_aimed_scene);
    if (look) kind_aimed_scene.view.look = look;
    void *work = malloc(bf_picture_work_bytes());
    bf_status status =
        bf_picture_above(&kind_aimed_scene.view, kind_aimed_scene.density, &labels, work, svg, most, picture);
    free(work);
    return status;
}

/* A card has a look of its own. */
static inline bf_status kind_card(int n, int look, char *svg, size_t most, bf_picture *picture) {
    (void)look;
    scene_card_random(n, &kind_card_view);
    return bf_picture_card_a5(&kind_card_view, svg, most, picture);
}

typedef struct plan_kind {
    const char *name;
    /* The picture of random scene n; look 0: the scene's own. */
    bf_status (*draw)(int n, int look, char *svg, size_t most, bf_picture *picture);
} plan_kind;

#define N_PLAN_KINDS 4
static const plan_kind plan_kinds[N_PLAN_KINDS] = {
    {"section", kind_section}, {"shotting", kind_shotting}, {"aimed", kind_aimed}, {"card", kind_card}};

#endif
