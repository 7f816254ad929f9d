/* plan_draw.c -- drawings of a plan: each spot in section and from above, and the card. See plans.h. */
#include <math.h>
#include <string.h>

#include "text/plans.h"
#include "text/record.h"
#include "text/sight.h"
#include "text/told.h"

typedef struct card {
    bf_card_view view;
    char svg[BF_PLAN_SVG_BYTES];
    bf_picture picture;
} card;

size_t bfi_plan_draw_bytes(void) {
    size_t sight = bfi_sight_bytes();
    return sight > sizeof(card) ? sight : sizeof(card);
}

static void label(bf_label *to, const char *text) {
    bfi_cut(to->text, sizeof to->text, text, strlen(text));
}

static void label_range(bf_label *to, bf_range range, bf_dimension dimension) {
    char text[BF_SAY_MOST];
    bf_say_range(range, dimension, text);
    label(to, range.mid == range.mid ? text : "");
}

/* ---- A spot ---- */

static int output_of(const bf_table *table, const char *name) {
    int i = 0;
    while (strcmp(table->field[i].name, name) != 0) i++;
    return i;
}

static void take_words(const bfi_work *work, int spot, bfi_sight_words *words) {
    const bfi_plan *o = work->own;
    const bfi_plan_spot *s = &o->spot[spot];
    bf_quantity depth = s->stand.scene.spot.depth_m;
    memset(words, 0, sizeof *words);
    words->hook_bait = bf_bait_name(bfi_plan_hook_bait(work, spot));
    label_range(&words->feed.depth,
                (bf_range){depth.value, depth.value, depth.value - depth.pm, depth.value + depth.pm},
                BF_LENGTH);
    label_range(&words->off, s->rig[output_of(&bf_rig_out_table, "off_m")], BF_LENGTH);
    if (s->line < 0) return;
    label(&words->feed.bait, bf_bait_name(bfi_plan_bait(work, s->line)));
    label_range(&words->feed.time, o->line_last_s[s->line], BF_TIME);
    label_range(&words->feed.wide, o->line_wide_m[s->line], BF_LENGTH);
    label_range(&words->down, s->lay[output_of(&bf_lay_out_table, "down_s")], BF_TIME);
}

bf_status bfi_json_spot_pictures(bfi_work *work, int spot, const double *rows, bfi_json *out) {
    const bfi_plan *o = work->own;
    const bfi_plan_spot *s = &o->spot[spot];
    const bfi_job *aim = bfi_plan_job(o, BFI_JOB_AIM, spot), *rig = bfi_plan_job(o, BFI_JOB_RIG, spot);
    bfi_sight *sight = work->spare;
    bfi_sight_words words;
    bf_status status = BF_OK;
    int has_above = aim && !o->is_nominal && o->wanted.pictures & BFI_SEE_ABOVE;
    int has_section = o->wanted.pictures & BFI_SEE_SECTION && !s->status;
    if (!has_above && !has_section) return BF_OK;
    bfi_sight_start(sight, o->wanted.look, &s->stand);
    if (!o->is_nominal && aim)
        bfi_sight_take_aim(sight, bfi_job_row(aim, rows, 0), aim->n_items, BFI_PLAN_COLUMNS);
    else if (!o->is_nominal && rig)
        bfi_sight_take_rig(sight, bfi_job_row(rig, rows, 0), rig->n_items, BFI_PLAN_COLUMNS);
    take_words(work, spot, &words);
    bfi_json_key(out, "pictures");
    bfi_json_object(out);
    if (has_above) status = bfi_json_above(sight, &words, out);
    if (!status && has_section) status = bfi_json_section(sight, &s->shape, s->line >= 0, &words, out);
    if (status) return bfi_fail(&work->error, status, "pictures", &work->json, -1, "");
    bfi_json_close(out);
    return BF_OK;
}

/* ---- The card ---- */

static void take_card_spot(const bfi_work *work, int spot, bf_card_spot *to) {
    const bfi_plan *o = work->own;
    const bfi_plan_spot *s = &o->spot[spot];
    label(&to->name, bfi_plan_name(work, BF_PLAN_SPOT, spot));
    to->distance_m = s->stand.scene.spot.distance_m.value;
    to->depth_m = s->stand.scene.spot.depth_m.value;
    to->bottom = s->stand.scene.spot.bottom;
    bf_label bait = {""};
    bfi_label_short(&bait, bfi_plan_hook_bait(work, spot));
    to->rig = bf_drawn_rig_of(&s->stand.rig, bfi_set_m(&s->stand), bait.text);
    if (s->line < 0) return;
    bfi_label_short(&bait, bfi_plan_bait(work, s->line));
    char what[BF_LABEL_BYTES + 1];
    bfi_pen pen = bfi_pen_open(what, sizeof what);
    int how = o->plan.put[s->line].how;
    bfi_put(&pen, bait.text);
    if (how == BF_CLUMP || how == BF_SPRINKLE) bfi_put(&pen, " a pot");
    label(&to->pieces_what, what);
    label_range(&to->pieces, o->line_pieces[s->line], BF_PURE);
    label_range(&to->feed_down, s->lay[output_of(&bf_lay_out_table, "feed_s")], BF_TIME);
    label_range(&to->wait, s->lay[output_of(&bf_lay_out_table, "wait_s")], BF_TIME);
    label_range(&to->rig_down, s->lay[output_of(&bf_lay_out_table, "down_s")], BF_TIME);
}

static void take_card_feed(const bfi_work *work, int line, bf_card_feed *to) {
    const bfi_plan *o = work->own;
    const bf_plan_line *said = &o->plan.line[line];
    char amount[BF_SAY_MOST];
    double last_s;
    int n = bf_plan_times(&o->plan, line, &last_s);
    bfi_say_amount(&o->plan, line, amount);
    to->spot = said->spot;
    label(&to->amount, amount);
    bfi_label_short(&to->bait, bfi_plan_bait(work, line));
    label(&to->how, bfi_how_said[o->plan.put[line].how]);
    to->from_s = said->from_s;
    to->to_s = last_s;
    to->every_s = n > 1 ? said->every_s : BF_NAN;
}

static void take_limits(const bfi_work *work, bf_card_view *view) {
    const bfi_plan *o = work->own;
    char text[BF_SAY_MOST + 32];
    int rules = bfi_plan_rules(work);
    if (o->plan.nets.limit_kg == o->plan.nets.limit_kg) {
        char weight[BF_SAY_MOST];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bf_say_weight(o->plan.nets.limit_kg, weight);
        bfi_put(&pen, "net: ");
        bfi_put(&pen, weight);
        bfi_put(&pen, " at most");
        label(&view->limit[view->n_limits++], text);
    }
    for (int i = rules >= 0 ? bf_json_first(&work->json, rules) : -1;
         i >= 0 && view->n_limits < BF_CARD_LIMITS; i = bf_json_next(&work->json, i)) {
        bf_label *limit = &view->limit[view->n_limits++];
        if (bf_json_string(&work->json, i, limit->text, sizeof limit->text))
            limit->text[sizeof limit->text - 1] = 0; // a long one is cut
    }
}

/* A text member of an object of the request into a label. */
static void label_member(const bfi_work *work, int object, const char *key, bf_label *to) {
    int is_object = object >= 0 && bf_json_kind_of(&work->json, object) == BF_JSON_OBJECT;
    int value = is_object ? bf_json_find(&work->json, object, key) : -1;
    if (value < 0 || bf_json_kind_of(&work->json, value) != BF_JSON_STRING) return;
    if (bf_json_string(&work->json, value, to->text, sizeof to->text))
        to->text[sizeof to->text - 1] = 0; // a long one is cut
}

#define DAY_MS 86400000.0

/* "Thu 26 Nov 2026" and the minutes of that day, by the clock the start is written in. */
static void take_start(const bfi_plan *o, bf_card_view *view) {
    double local_ms = o->plan.session.starts_ms + o->east_min * 60000.0;
    view->starts_min = BF_NAN;
    if (local_ms != local_ms) return;
    double day = floor(local_ms / DAY_MS);
    bfi_pen pen = bfi_pen_open(view->day.text, sizeof view->day.text);
    static const char *const week[] = {"Thu ", "Fri ", "Sat ", "Sun ",
                                       "Mon ", "Tue ", "Wed "}; // 1970 began so
    bfi_put(&pen, week[(int)(day - 7 * floor(day / 7))]);
    bfi_put_date(&pen, o->plan.session.starts_ms, o->east_min, 1);
    view->starts_min = floor((local_ms - day * DAY_MS) / 60000);
}

static void take_card(bfi_work *work, bf_card_view *view) {
    const bfi_plan *o = work->own;
    memset(view, 0, sizeof *view);
    int venue = bfi_option(work, "venue");
    label_member(work, venue, "name", &view->venue);
    label_member(work, venue, "peg", &view->peg);
    view->is_invented = bfi_find_text(view->venue.text, "invented") != NULL;
    take_start(o, view);
    view->hours = o->plan.session.hours;
    view->n_spots = o->plan.n_spots;
    for (int i = 0; i < view->n_spots; i++) take_card_spot(work, i, &view->spot[i]);
    view->n_feeds = o->plan.n_lines;
    for (int i = 0; i < view->n_feeds; i++) take_card_feed(work, i, &view->feed[i]);
    take_limits(work, view);
    label(&view->version, "Baitfall " BF_VERSION);
}

typedef bf_status (*draw_card)(const bf_card_view *view, char *svg, size_t most, bf_picture *picture);

bf_status bfi_json_cards(bfi_work *work, bfi_json *out) {
    static const struct {
        unsigned when;
        const char *key;
        draw_card draw;
    } cards[] = {{BFI_SEE_CARD_A5, "card-a5", bf_picture_card_a5},
                 {BFI_SEE_CARD_A6, "card-a6-front", bf_picture_card_a6_front},
                 {BFI_SEE_CARD_A6, "card-a6-back", bf_picture_card_a6_back}};
    const bfi_plan *o = work->own;
    card *c = work->spare;
    if (o->is_nominal || !(o->wanted.pictures & (BFI_SEE_CARD_A5 | BFI_SEE_CARD_A6))) return BF_OK;
    if (o->plan.n_spots == 0)
        return bfi_fail(&work->error, BF_E_MISSING, "spots", NULL, -1, "1 to 8 spots for a card");
    take_card(work, &c->view);
    bfi_json_key(out, "pictures");
    bfi_json_object(out);
    for (size_t i = 0; i < sizeof cards / sizeof cards[0]; i++) {
        if (!(o->wanted.pictures & cards[i].when)) continue;
        bf_status status = cards[i].draw(&c->view, c->svg, sizeof c->svg, &c->picture);
        if (status) return bfi_fail(&work->error, status, "pictures", &work->json, -1, "");
        bfi_json_picture(out, cards[i].key, c->svg, &c->picture);
    }
    bfi_json_close(out);
    return BF_OK;
}
