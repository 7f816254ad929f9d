/* rehearse_choices.c -- the choices of a rehearsal: read as lines of a journal, and what they come to in its scene. See text/rehearse.c. */
#include <string.h>

#include "text/rehearsed.h"

/* "choices[3].count" */
static void choice_path(char *out, size_t most, int i, const char *key) {
    bfi_pen pen = bfi_pen_open(out, most);
    bfi_put(&pen, "choices[");
    bfi_put_number(&pen, i, 0);
    bfi_put(&pen, "]");
    if (key[0]) bfi_put(&pen, ".");
    bfi_put(&pen, key);
}

static bf_status fail_choice(bfi_rehearse *r, bf_status status, int i, const char *key, int value,
                             const char *accepted) {
    char path[64];
    choice_path(path, sizeof path, i, key);
    return bfi_fail(&r->ask->error, status, path, &r->ask->json, value, accepted);
}

/* ---- Choices ---- */

static int find(const char (*text)[BF_NAME_BYTES + 1], int n, const char *name) {
    for (int i = 0; i < n; i++)
        if (strcmp(text[i], name) == 0) return i;
    return -1;
}

/* What a name of a choice is in the scene; `carried` where it tells none. */
static bf_status place(bfi_rehearse *r, int i, const char *key, int name,
                       const char (*text)[BF_NAME_BYTES + 1], int n, int carried, int *index) {
    const char *names[BF_SWIM_MOST_FEEDS + 1] = {0};
    char accepted[512];
    *index = carried;
    if (name < 0) return BF_OK;
    *index = find(text, n, bf_journal_name(r->journal, name));
    if (*index >= 0) return BF_OK;
    for (int k = 0; k < n; k++) names[k] = text[k];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put_words(&pen, names);
    bfi_put(&pen, " (what the plan feeds and fishes)");
    int body = bf_json_find(&r->ask->json, r->choice[i].value, "body");
    char path[32];
    pen = bfi_pen_open(path, sizeof path);
    bfi_put(&pen, "body.");
    bfi_put(&pen, key);
    return fail_choice(r, BF_E_CHOICE, i, path, bf_json_find(&r->ask->json, body, key), accepted);
}

static bf_status read_time(bfi_rehearse *r, int i, const char *key, double least, double most, double *s) {
    int value = bf_json_find(&r->ask->json, r->choice[i].value, key);
    char accepted[64];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    if (value >= 0 && bf_json_kind_of(&r->ask->json, value) == BF_JSON_NUMBER &&
        bf_json_number(&r->ask->json, value, s) == BF_OK && *s >= least && *s <= most)
        return BF_OK;
    bfi_put_number(&pen, least, 0);
    bfi_put(&pen, " to ");
    bfi_put_number(&pen, most, 0);
    bfi_put(&pen, " s, in order of time");
    return fail_choice(r, value < 0 ? BF_E_MISSING : BF_E_RANGE, i, key, value, accepted);
}

static bf_status read_kind(bfi_rehearse *r, int i, int *kind) {
    const bf_json *json = &r->ask->json;
    int value = bf_json_find(json, r->choice[i].value, "kind");
    char path[64];
    choice_path(path, sizeof path, i, "kind");
    if (value < 0) return fail_choice(r, BF_E_MISSING, i, "kind", -1, "feed, lower, lift or wait");
    return bfi_read_choice(json, value, path, bf_turn_words, kind, &r->ask->error);
}

static bf_status refuse_keys(bfi_rehearse *r, int i) {
    const bf_json *json = &r->ask->json;
    for (int key = bf_json_first(json, r->choice[i].value); key >= 0; key = bf_json_next(json, key))
        if (!bf_json_is(json, key, "t_s") && !bf_json_is(json, key, "kind") &&
            !bf_json_is(json, key, "body") && !bf_json_is(json, key, "for_s")) {
            char path[128];
            bf_json_path(json, key, path, sizeof path);
            return bfi_rehearse_fail(r, BF_E_KEY, path, "t_s, kind, body, for_s");
        }
    return BF_OK;
}

/* The choice as a line of the journal, which reads and checks its body. */
static bf_status take_choice(bfi_rehearse *r, int i) {
    const bf_turn *turn = &r->turn[i];
    bfi_rehearse_choice *choice = &r->choice[i];
    const bf_json *json = &r->ask->json;
    int body = bf_json_find(json, choice->value, "body");
    bf_error error = {.status = BF_OK};
    choice->event = -1;
    if (body >= 0) choice->body = bf_json_raw(json, body, &choice->n_body);
    if (turn->kind == BF_TURN_WAIT) return BF_OK;
    bfi_json line = bfi_rehearse_line(
        r, i + 1, turn->kind == BF_TURN_LIFT ? "lift" : bf_turn_words[turn->kind], turn->t_s);
    int is_plain_lift = turn->kind == BF_TURN_LIFT && !choice->body;
    if (is_plain_lift)
        bfi_json_raw(&line, "{\"outcome\":\"nothing\"}", 21);
    else if (choice->body)
        bfi_json_raw(&line, choice->body, choice->n_body);
    else
        bfi_json_raw(&line, "{}", 2);
    choice->event = bf_journal_n(r->journal);
    if (!bfi_rehearse_line_done(r, &line, &error)) return BF_OK;
    char path[sizeof r->ask->error.field];
    choice_path(path, sizeof path, i, error.field);
    r->ask->error = error;
    bfi_cut(r->ask->error.field, sizeof r->ask->error.field, path, strlen(path));
    bfi_pen pen = bfi_pen_open(r->ask->error.text, sizeof r->ask->error.text);
    choice_path(path, sizeof path, i, "");
    bfi_put(&pen, path);
    bfi_put(&pen, ": ");
    bfi_put(&pen, error.text);
    return error.status;
}

static bf_status read_choice(bfi_rehearse *r, int i, int value) {
    bf_turn *turn = &r->turn[i];
    *turn = (bf_turn){.kind = 0};
    r->choice[i] = (bfi_rehearse_choice){.value = value};
    if (bf_json_kind_of(&r->ask->json, value) != BF_JSON_OBJECT)
        return fail_choice(r, BF_E_TYPE, i, "", value, "an object with t_s and kind");
    bf_status status = refuse_keys(r, i);
    double least_s = i ? r->turn[i - 1].t_s - r->begin_s : 0;
    if (!status) status = read_kind(r, i, &turn->kind);
    if (!status) status = read_time(r, i, "t_s", least_s, BF_REHEARSE_MOST_S, &turn->t_s);
    if (!status && turn->kind == BF_TURN_WAIT)
        status = read_time(r, i, "for_s", 0, BF_REHEARSE_MOST_S, &turn->for_s);
    turn->t_s += r->begin_s;
    return status ? status : take_choice(r, i);
}

bf_status bfi_rehearse_read_choices(bfi_rehearse *r) {
    const bf_json *json = &r->ask->json;
    int list = bf_json_find(json, 0, "choices");
    if (list < 0) return BF_OK;
    if (bf_json_kind_of(json, list) != BF_JSON_ARRAY)
        return bfi_ask_fail(r->ask, BF_E_TYPE, "choices", "an array of choices");
    for (int value = bf_json_first(json, list); value >= 0; value = bf_json_next(json, value)) {
        if (r->n_turns == BF_REHEARSE_MOST_TURNS)
            return bfi_rehearse_fail(r, BF_E_COUNT, "choices", "1000 choices at most");
        bf_status status = read_choice(r, r->n_turns, value);
        if (status) return status;
        r->n_turns++;
    }
    return BF_OK;
}

/* ---- What choices come to ---- */

static const bf_put_in *put_of(const bfi_rehearse *r, int event) {
    const bf_fold *of = r->inner.fold;
    for (int p = r->next.b->session->put_from; p < r->next.b->session->put_to; p++)
        if (of->live[of->put_in[p].live].event == event) return &of->put_in[p];
    return NULL;
}

static bf_status take_feed(bfi_rehearse *r, int i, int *spot) {
    bfi_bedded *b = r->next.b;
    bf_turn *turn = &r->turn[i];
    const bf_put_in *put = put_of(r, r->choice[i].event);
    BF_ASSERT(put);
    const bf_body *body = &bf_journal_events(r->journal)[r->choice[i].event].body;
    bf_status status = place(r, i, "spot", body->spot, (const char(*)[BF_NAME_BYTES + 1]) r->spot,
                             b->scene.n_spots, *spot, &turn->spot);
    if (!status)
        status = place(r, i, "bait", body->bait, (const char(*)[BF_NAME_BYTES + 1]) r->feed, b->scene.n_feeds,
                       0, &turn->what);
    if (status) return status;
    bf_put_in there = *put;
    there.spot = b->names.spot[turn->spot];
    bf_story_put comes_to = bfi_bed_comes_to(b, &there);
    turn->how = put->how < 0 ? BF_CLUMP : put->how;
    turn->is_further = &r->inner.fold->put_in[put->first] != put;
    turn->count = comes_to.pieces, turn->count_pm_frac = comes_to.pieces_pm_frac;
    turn->area_m2 = comes_to.area_m2 > 0 ? comes_to.area_m2 : b->scene.spot[turn->spot].area_m2[turn->how];
    if (!(turn->count > 0))
        return fail_choice(r, BF_E_MISSING, i, "body.count", -1,
                           "how much goes in: a count, a volume or a fill");
    *spot = turn->spot;
    return BF_OK;
}

static bf_status take_lower(bfi_rehearse *r, int i, int *spot, int *hook) {
    const bf_swim_scene *scene = &r->next.b->scene;
    bf_turn *turn = &r->turn[i];
    const bf_body *body = &bf_journal_events(r->journal)[r->choice[i].event].body;
    bf_status status = place(r, i, "spot", body->spot, (const char(*)[BF_NAME_BYTES + 1]) r->spot,
                             scene->n_spots, *spot, &turn->spot);
    if (!status)
        status = place(r, i, "hook_bait", body->hook_bait, (const char(*)[BF_NAME_BYTES + 1]) r->hook,
                       scene->n_hooks, *hook, &turn->what);
    *spot = turn->spot, *hook = turn->what;
    return status;
}

/* The hook bait that was down last before. */
static int hook_before(const bfi_rehearse *r) {
    const bfi_bedded *b = r->next.b;
    for (int i = b->n_events - 1; i >= 0; i--)
        if (b->event[i].kind == BF_SWIM_IN) return b->event[i].what;
    return 0;
}

bf_status bfi_rehearse_take_choices(bfi_rehearse *r) {
    int spot = r->next.b->job.spot, hook = hook_before(r);
    bf_status status = BF_OK;
    bfi_rehearse_look_again(r);
    for (int i = 0; !status && i < r->n_turns; i++) {
        if (r->turn[i].kind == BF_TURN_FEED) status = take_feed(r, i, &spot);
        if (r->turn[i].kind == BF_TURN_LOWER) status = take_lower(r, i, &spot, &hook);
    }
    return status;
}
