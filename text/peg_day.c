/* peg_day.c -- at the drawn peg: where to fish off the plumbed depths, with which of the rigs that are carried, and the first
 * half hour.
 *
 * Request  {"plan":{...},"peg":"14","plumbed":[{"id"?,"distance_m","side_m","depth_m","bottom"}],"wind":a word or a speed,
 *          "wind_side": a word or an angle,"temp_c"} and the plan's options. What is not said of wind and water is the
 *          plan's. A place whose id is a spot of the plan is that spot; another is fished as the nearest in distance.
 * Answer   "peg","spot":{"spot","place","text","why"},"shelf":{"from","to","text"} or null,"rig":{as of a plan, and "text",
 *          "why","why_not":[...]},"first_feed":{"bait","text"},"half_hour":[{"at_s","text"}],"lay","aim","wait_s","chance",
 *          "pictures","notes".
 * Rigs     Those of the plan's kit and those made for its unknown peg; without any, the one suggested for the place. */
#include <string.h>

#include "baitfall/day.h"
#include "core/base/room.h"
#include "core/picture/words.h"
#include "text/plans.h"
#include "text/read_parts.h"
#include "text/stood.h"
#include "text/told.h"

#define HALF_HOUR_S 1800.0

/* What was found at the peg. */
typedef struct plumbed {
    bf_quantity distance_m, side_m, depth_m;
    int bottom;
} plumbed;

typedef struct found {
    int n_places;
    plumbed place[BF_DAY_PLACES];
} found;

#define MOST_CARRIED (BF_PLAN_RIGS + BF_RIGSET_MOST)

/* What stands in work->own. */
typedef struct own {
    bfi_plan plan;   /* first: the plan's functions work on it */
    bf_json request; /* the whole; work->json is the plan alone */
    bfi_names names; /* of the places                           */
    found found;
    bf_place_choice choice;
    int spot;                  /* of the plan that is fished as      */
    int n_kit, n_carried;      /* rigs of the kit; and with those made for the unknown peg, behind them */
    int rig;                   /* index of the one that is taken     */
    int reaches[MOST_CARRIED]; /* 0: it cannot be set to the depth   */
    bf_judged judged[MOST_CARRIED]; /* each that is carried, at the place */
    bf_rig carried[MOST_CARRIED];
    bf_stand stand;
} own;

static const bf_field plumbed_fields[] = {
    {"distance_m", BF_QUANTITY, offsetof(plumbed, distance_m), BF_LENGTH, 0.1, 60, BF_NAN, 0.1, 2, 16, NULL,
     "from the butt mark straight out; it must be given", 1},
    BF_Q(plumbed, side_m, BF_LENGTH, -60, 60, 0, 0.1, -3, 3, "to the angler's right; start: straight out"),
    {"depth_m", BF_QUANTITY, offsetof(plumbed, depth_m), BF_LENGTH, 0.05, 12, BF_NAN, 0.05, 0.5, 3, NULL,
     "as plumbed; it must be given", 1},
    BF_W(plumbed, bottom, bf_bottom_words, BF_N_BOTTOMS, BF_NAN, "what the bottom is; not given: not told"),
};
static const bf_table plumbed_table = BF_TABLE("plumbed", plumbed, plumbed_fields);
static const bf_section found_sections[] = {
    BF_ROWS("plumbed", plumbed_table, found, place, BF_DAY_PLACES, n_places)};
static const bf_schema found_schema = BF_SCHEMA("peg", found, found_sections);

/* ---- The request ---- */

static void *tokens_of(bfi_work *work) {
    return (char *)work->own + bfi_room(sizeof(own));
}

/* An error in the plan is said of "plan.kit.rigs[2]", where it stands in this request. */
static bf_status fail_in_plan(bfi_work *work, bf_status status) {
    bf_error *error = &work->error, inner = *error;
    size_t n = strlen(inner.field);
    bfi_pen field = bfi_pen_open(error->field, sizeof error->field);
    bfi_pen text = bfi_pen_open(error->text, sizeof error->text);
    bfi_put(&field, n ? "plan." : "plan");
    bfi_put(&field, inner.field);
    int begins_with_it = n && strncmp(inner.text, inner.field, n) == 0;
    bfi_put(&text, begins_with_it ? "plan." : "In the plan: ");
    bfi_put(&text, inner.text);
    return status;
}

/* The plan as JSON of its own, with which work->json then goes on. */
static bf_status read_the_plan(bfi_work *work) {
    own *o = work->own;
    bf_json_fault fault;
    size_t n;
    int value = bfi_option(work, "plan");
    if (value < 0) return bfi_fail(&work->error, BF_E_MISSING, "plan", NULL, -1, "a plan");
    if (bf_json_kind_of(&work->json, value) != BF_JSON_OBJECT)
        return bfi_fail(&work->error, BF_E_TYPE, "plan", &work->json, value, "a plan, as an object");
    const char *text = bf_json_raw(&work->json, value, &n);
    o->request = work->json;
    bf_status status = bf_json_read(text, n, tokens_of(work), BFI_TOKENS_MOST, &work->json, &fault);
    BF_ASSERT(!status); // it is a part of what was read
    status = bfi_read_plan(work);
    return status ? fail_in_plan(work, status) : BF_OK;
}

static int option(const own *o, const char *key) {
    return bf_json_find(&o->request, 0, key);
}

static const bf_field *lake_field(const char *name) {
    int is_pm, i = bf_field_find(&bf_lake_table, name, strlen(name), &is_pm);
    BF_ASSERT(i >= 0);
    return &bf_lake_table.field[i];
}

/* A field of the water that may be told in a word. words: as bf_wind_word. */
static bf_status read_told(bfi_work *work, const char *key, const char *field, const char *const *words,
                           const bf_quantity *values, bf_quantity *to) {
    own *o = work->own;
    int value = option(o, key);
    if (value < 0) return BF_OK;
    for (int i = 0; words && words[i]; i++)
        if (bf_json_kind_of(&o->request, value) == BF_JSON_STRING &&
            bf_json_is(&o->request, value, words[i])) {
            *to = values[i];
            return BF_OK;
        }
    return bfi_read_quantity(&o->request, value, key, lake_field(field), to, &work->error);
}

#define WORDS_MOST 8

static bf_status read_wind(bfi_work *work) {
    own *o = work->own;
    bf_lake *lake = &o->plan.plan.lake;
    const char *winds[WORDS_MOST] = {0}, *sides[WORDS_MOST] = {0};
    bf_quantity speeds[WORDS_MOST], angles[WORDS_MOST];
    BF_ASSERT(bf_n_wind_words < WORDS_MOST && bf_n_wind_sides < WORDS_MOST);
    for (int i = 0; i < bf_n_wind_words; i++) {
        winds[i] = bf_wind_words[i].word;
        speeds[i] = bf_wind_words[i].wind_m_s;
    }
    for (int i = 0; i < bf_n_wind_sides; i++) {
        sides[i] = bf_wind_sides[i].word;
        angles[i] = bf_wind_sides[i].to_deg;
    }
    bf_status status = read_told(work, "wind", "wind_m_s", winds, speeds, &lake->wind_m_s);
    if (!status) status = read_told(work, "wind_side", "wind_side_deg", sides, angles, &lake->wind_side_deg);
    if (!status) status = read_told(work, "temp_c", "temp_c", NULL, NULL, &lake->temp_c);
    return status;
}

static bf_status read_places(bfi_work *work) {
    static const char *const others[] = {BFI_OPTION_KEYS, "nominal", "look",      "pictures", "plan",
                                         "peg",           "wind",    "wind_side", "temp_c",   NULL};
    own *o = work->own;
    bf_fault fault;
    int peg = bfi_option(work, "peg");
    if (peg >= 0 && bf_json_kind_of(&work->json, peg) != BF_JSON_STRING)
        return bfi_fail(&work->error, BF_E_TYPE, "peg", &work->json, peg, "text");
    bf_schema_start(&found_schema, &o->found);
    bf_status status = bfi_read_record(&work->reader, &work->json, &found_schema, &o->found, others,
                                       &o->names, &work->error);
    if (status) return status;
    if (bf_schema_check(&found_schema, &o->found, &fault))
        return bfi_fail_fault(&work->error, &o->names, &fault);
    if (o->found.n_places == 0)
        return bfi_fail(&work->error, BF_E_MISSING, "plumbed", NULL, -1, "1 to 6 plumbed places");
    return BF_OK;
}

/* Options are those of the request; draws and seed that it does not say are the plan's. */
static bf_status read_options(bfi_work *work) {
    static const bfi_see sees[] = {{"above", BFI_SEE_ABOVE}, {"section", BFI_SEE_SECTION}, {NULL, 0}};
    own *o = work->own;
    const bf_json plan = work->json;
    const uint64_t plans_seed = work->seed;
    const int plans_draws = work->n_draws;
    work->json = o->request;
    bf_status status = bfi_read_options(work, plans_draws);
    if (!status && work->n_draws > BFI_PLAN_MOST_DRAWS)
        status = bfi_fail(&work->error, BF_E_RANGE, "draws", &work->json, bfi_option(work, "draws"),
                          BFI_PLAN_DRAWS_ACCEPTED);
    if (bfi_option(work, "seed") < 0) work->seed = plans_seed;
    if (!status) status = bfi_read_truth(work, "nominal", &o->plan.is_nominal);
    if (!status) status = bfi_read_pictures(work, sees, &o->plan.wanted);
    work->json = plan;
    return status;
}

/* ---- Which place ---- */

static bf_status choose_place(bfi_work *work) {
    own *o = work->own;
    bf_place places[BF_DAY_PLACES];
    for (int i = 0; i < o->found.n_places; i++) {
        const plumbed *p = &o->found.place[i];
        places[i] = (bf_place){p->distance_m.value, p->side_m.value, p->depth_m.value, p->bottom};
    }
    const bf_quantity *temp = &o->plan.plan.lake.temp_c;
    double temp_c = temp->is_unknown ? BF_NAN : temp->value;
    if (bf_place_choose(places, o->found.n_places, o->plan.plan.whole.pole_m, temp_c, &o->choice))
        return BF_OK;
    return bfi_fail(&work->error, BF_E_RANGE, "plumbed", NULL, -1, "a place within reach of the plan's pole");
}

static const char *place_name(const own *o, int place) {
    return bfi_name_of(&o->names, &found_sections[0], place);
}

/* The spot of the plan that a place is, or is fished as; -1: the plan has none. */
static int spot_of(const bfi_work *work, int place) {
    const own *o = work->own;
    const bf_plan *plan = &o->plan.plan;
    int nearest = -1;
    double least_m = BF_INFINITY;
    for (int i = 0; i < plan->n_spots; i++) {
        if (place_name(o, place)[0] &&
            strcmp(place_name(o, place), bfi_plan_name(work, BF_PLAN_SPOT, i)) == 0)
            return i;
        double away_m = plan->spot[i].distance_m.value - o->found.place[place].distance_m.value;
        if (away_m < 0) away_m = -away_m;
        if (away_m >= least_m) continue;
        nearest = i;
        least_m = away_m;
    }
    return nearest;
}

/* The plan's spot becomes the place. */
static bf_status take_place(bfi_work *work) {
    own *o = work->own;
    const plumbed *p = &o->found.place[o->choice.place];
    o->spot = spot_of(work, o->choice.place);
    if (o->spot < 0) return bfi_fail(&work->error, BF_E_MISSING, "plan.spots", NULL, -1, "1 to 8 spots");
    bf_spot *spot = &o->plan.plan.spot[o->spot];
    spot->distance_m = p->distance_m;
    spot->side_m = p->side_m;
    spot->depth_m = p->depth_m;
    spot->bottom = p->bottom;
    return BF_OK;
}

/* ---- Which rig ---- */

/* The rigs made for the unknown peg: those that the plan named, so with its water and its first spot, whatever is found at the
 * peg. */
static bf_status take_carried(bfi_work *work) {
    own *o = work->own;
    const bf_plan *plan = &o->plan.plan;
    o->n_carried = o->n_kit = plan->n_rigs;
    if (!plan->has_unknown_peg || plan->n_spots == 0) return BF_OK;
    bf_plan_stand(plan, 0, &o->stand);
    bf_stand_settle(&o->stand);
    bf_status status = bf_rigset(&o->stand, &plan->unknown_peg, &o->plan.rig_set);
    if (status)
        return bfi_fail(&work->error, status, "plan.unknown_peg", NULL, -1,
                        "depths and winds a rig can stand in");
    o->n_carried += o->plan.rig_set.n_rigs;
    return BF_OK;
}

/* The set's rig that a carried one is, NULL: it is of the kit. */
static const bf_set_rig *of_set(const own *o, int rig) {
    return rig < o->n_kit ? NULL : &o->plan.rig_set.rig[rig - o->n_kit];
}

static int holds(const bf_judged *judged) {
    return judged->limit == BF_LIMIT_NONE;
}

/* 1 when rig a is the better one here: it can be set to the depth; it holds and is lighter, or comes nearer to holding. */
static int is_better(const own *o, int a, int b) {
    const bf_judged *is = &o->judged[a], *was = &o->judged[b];
    if (o->reaches[a] != o->reaches[b]) return o->reaches[a];
    if (holds(is) != holds(was)) return holds(is);
    return holds(is) ? o->carried[a].flt.rating_kg < o->carried[b].flt.rating_kg
                     : is->miss_frac < was->miss_frac;
}

/* A carried rig at the place. */
static bf_status judge(own *o, int rig) {
    bf_plan *plan = &o->plan.plan;
    const bf_set_rig *of = of_set(o, rig);
    plan->spot_use[o->spot].rig = of ? -1 : rig;
    bf_plan_stand(plan, o->spot, &o->stand);
    bf_stand_settle(&o->stand);
    o->reaches[rig] = !of || bf_rigset_reaches(of, &o->stand);
    if (of) return bf_rigset_judge(of, &o->stand, &o->carried[rig], &o->judged[rig]);
    o->carried[rig] = o->stand.rig;
    return bf_judge(&o->stand, &o->judged[rig]);
}

/* Every carried rig judged at the place; the best is taken, into the plan's list when it is not there. Without any, one is
 * suggested. */
static void choose_rig(own *o) {
    bf_plan *plan = &o->plan.plan;
    o->rig = -1;
    for (int i = 0; i < o->n_carried; i++) {
        bf_status status = judge(o, i);
        BF_ASSERT(!status || o->judged[i].limit == BF_LIMIT_SOLVED); /* no answer: it does not hold */
        if (o->rig < 0 || is_better(o, i, o->rig)) o->rig = i;
    }
    plan->spot_use[o->spot].rig = o->rig;
    if (o->rig < o->n_kit) return;
    plan->rig[plan->n_rigs] = o->carried[o->rig];
    plan->spot_use[o->spot].rig = plan->n_rigs++;
}

static bf_status begin(bfi_work *work) {
    own *o = work->own;
    bf_status status = read_places(work);
    if (!status) status = read_the_plan(work);
    if (!status) status = read_options(work);
    if (!status) status = take_carried(work);
    if (!status) status = read_wind(work);
    if (!status) status = choose_place(work);
    if (!status) status = take_place(work);
    if (status) return status;
    choose_rig(o);
    bfi_decide_spot(work, o->spot);
    bfi_list_spot(work, o->spot);
    return BF_OK;
}

/* ---- The answer ---- */

static void put_place_name(bfi_pen *pen, const own *o, int place) {
    const char *name = place_name(o, place);
    char distance[BF_SAY_MOST];
    if (name[0]) {
        bfi_put(pen, name);
        return;
    }
    bf_say(o->found.place[place].distance_m.value, BF_LENGTH, distance);
    bfi_put(pen, distance);
}

static void json_spot(const bfi_work *work, bfi_json *out) {
    const own *o = work->own;
    char text[256], why[256];
    bfi_pen pen = bfi_pen_open(text, sizeof text), why_pen = bfi_pen_open(why, sizeof why);
    bfi_put(&pen, "Fish ");
    put_place_name(&pen, o, o->choice.place);
    bfi_put(&pen, o->choice.why == BF_WHY_OFF_SHELF ? ", off the shelf." : ".");
    bfi_put_said(&why_pen, bf_place_why_sentence(o->choice.why), o->choice.number, NULL);
    bfi_json_key(out, "spot");
    bfi_json_object(out);
    bfi_json_key_text(out, "spot", bfi_plan_name(work, BF_PLAN_SPOT, o->spot));
    bfi_json_key_text(out, "place", place_name(o, o->choice.place));
    bfi_json_key_text(out, "text", text);
    bfi_json_key_text(out, "why", why);
    bfi_json_close(out);
}

static void json_shelf(const own *o, bfi_json *out) {
    char text[256], depth[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    int from = o->choice.shelf_from, to = o->choice.shelf_to;
    bfi_json_key(out, "shelf");
    if (from < 0) {
        bfi_json_raw(out, "null", 4);
        return;
    }
    bfi_put(&pen, "from ");
    bf_say(o->found.place[from].depth_m.value, BF_LENGTH, depth);
    bfi_put(&pen, depth);
    bfi_put(&pen, " at ");
    put_place_name(&pen, o, from);
    bfi_put(&pen, " down to ");
    bf_say(o->found.place[to].depth_m.value, BF_LENGTH, depth);
    bfi_put(&pen, depth);
    bfi_put(&pen, " at ");
    put_place_name(&pen, o, to);
    bfi_json_object(out);
    bfi_json_key_text(out, "from", place_name(o, from));
    bfi_json_key_text(out, "to", place_name(o, to));
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

/* What a carried rig is called: its id, else what it is. */
static void put_rig_name(bfi_pen *pen, const bfi_work *work, int rig) {
    const own *o = work->own;
    const bf_set_rig *of = of_set(o, rig);
    const char *id = of ? "" : bfi_plan_name(work, BF_PLAN_KIT_RIGS, rig);
    if (id[0])
        bfi_put(pen, id);
    else if (of)
        bfi_put_set_rig(pen, of);
    else
        bfi_put_rig(pen, &o->carried[rig]);
}

static void put_why_not(bfi_pen *pen, const own *o, int rig) {
    const bf_judged *is = &o->judged[rig], *taken = &o->judged[o->rig];
    if (!o->reaches[rig]) {
        const double set_m[1] = {bfi_set_m(&o->stand)};
        bfi_put_said(pen, "It cannot be set to {0:m} from float to hook, which this place takes.", set_m,
                     NULL);
        return;
    }
    bf_said said = holds(is) ? (bf_said){BF_SAID_WHY_HEAVIER, {is->worst_hang_m, taken->worst_hang_m, 0, 0}}
                             : bf_why_it_fails(&o->stand, is);
    bfi_put_said(pen, bf_said_sentence(said.code), said.number, NULL);
}

/* "rig 3 of the five you carry", why it, and why not each of the others. */
static void json_rig_choice(const bfi_work *work, bfi_json *out) {
    const own *o = work->own;
    int n = o->n_carried;
    char text[480] = "None is carried: this one is suggested.";
    if (n == 0) {
        bfi_json_key_text(out, "text", text);
        return;
    }
    const bf_judged *judged = &o->judged[o->rig];
    const double number[4] = {judged->hang_m, judged->worst_hang_m, judged->worst_wind_m_s,
                              judged->worst_gust_m};
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    if (n == 1) {
        bfi_put(&pen, "the one rig you carry");
    } else {
        bfi_put(&pen, "rig ");
        bfi_put_number(&pen, o->rig + 1, 0);
        bfi_put(&pen, " of the ");
        bfi_put_number_word(&pen, n);
        bfi_put(&pen, " you carry");
    }
    bfi_json_key_text(out, "text", text);
    pen = bfi_pen_open(text, sizeof text);
    if (of_set(o, o->rig))
        bfi_put_said(&pen, "Made {0:m} from float to hook for a peg not known. ", &of_set(o, o->rig)->made_m,
                     NULL);
    if (o->reaches[o->rig] && holds(judged)) {
        bfi_put_said(
            &pen,
            n == 1 ? "It holds: the bait hangs {0:cm} off, {1:cm} in {2:m_s} of wind, and a gust moves it "
                     "{3:cm}."
                   : "The lightest of them that holds: the bait hangs {0:cm} off, {1:cm} in {2:m_s} of wind, "
                     "and a gust "
                     "moves it {3:cm}.",
            number, NULL);
    } else {
        bfi_put(&pen,
                n == 1 ? "It does not hold here. " : "None of them holds here; this one comes nearest. ");
        put_why_not(&pen, o, o->rig);
    }
    bfi_json_key_text(out, "why", text);
    bfi_json_key(out, "why_not");
    bfi_json_array(out);
    for (int i = 0; i < n; i++) {
        if (i == o->rig) continue;
        pen = bfi_pen_open(text, sizeof text);
        put_rig_name(&pen, work, i);
        bfi_put(&pen, ": ");
        put_why_not(&pen, o, i);
        bfi_json_text(out, text);
    }
    bfi_json_close(out);
}

/* "1 pot of soft two, tipped", "15 hard four, tipped" */
static void put_feed(bfi_pen *pen, const bfi_work *work, int line) {
    const own *o = work->own;
    const bf_put *put = &o->plan.plan.put[line];
    char amount[BF_SAY_MOST];
    bfi_say_amount(&o->plan.plan, line, amount);
    bfi_put(pen, amount);
    bfi_put(pen, put->count == put->count ? " " : " of ");
    bfi_put(pen, bf_bait_name(bfi_plan_name(work, BF_PLAN_KIT_BAITS, o->plan.plan.line[line].bait)));
    bfi_put(pen, ", ");
    bfi_put(pen, bfi_how_said[o->plan.plan.put[line].how]);
}

typedef struct due {
    double at_s;
    int line;
} due;

#define DUES_MOST 64 /* a put-in every half minute; of more the earliest */

/* Puts one in its place, after those of the same time; of too many the last falls out. Returns how many there are. */
static int add_due(due dues[DUES_MOST], int n, due one) {
    int at = n < DUES_MOST ? n : DUES_MOST - 1;
    if (n == DUES_MOST && dues[at].at_s <= one.at_s) return n;
    for (; at > 0 && dues[at - 1].at_s > one.at_s; at--) dues[at] = dues[at - 1];
    dues[at] = one;
    return n < DUES_MOST ? n + 1 : n;
}

/* The put-ins at the spot in the first half hour, in order; the first line first when they fall together. */
static int first_half_hour(const own *o, due dues[DUES_MOST]) {
    const bf_plan *plan = &o->plan.plan;
    int n = 0;
    for (int line = 0; line < plan->n_lines; line++) {
        int n_times = bf_plan_times(plan, line, NULL);
        for (int k = 0; plan->line[line].spot == o->spot && k < n_times; k++) {
            double at_s = plan->line[line].from_s + (n_times > 1 ? k * plan->line[line].every_s : 0);
            if (at_s > HALF_HOUR_S) break;
            n = add_due(dues, n, (due){at_s, line});
        }
    }
    return n;
}

static void json_half_hour(const bfi_work *work, bfi_json *out) {
    const own *o = work->own;
    due dues[DUES_MOST];
    char text[256];
    int n = first_half_hour(o, dues), first = n > 0 ? dues[0].line : o->plan.spot[o->spot].line;
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_json_key(out, "first_feed");
    bfi_json_object(out);
    if (first >= 0) put_feed(&pen, work, first);
    bfi_json_key_text(
        out, "bait", first >= 0 ? bfi_plan_name(work, BF_PLAN_KIT_BAITS, o->plan.plan.line[first].bait) : "");
    bfi_json_key_text(out, "text", first >= 0 ? text : "The plan feeds nothing here.");
    bfi_json_close(out);
    bfi_json_key(out, "half_hour");
    bfi_json_array(out);
    for (int i = 0; i < n; i++) {
        pen = bfi_pen_open(text, sizeof text);
        put_feed(&pen, work, dues[i].line);
        bfi_json_object(out);
        bfi_json_key_real(out, "at_s", dues[i].at_s);
        bfi_json_key_text(out, "text", text);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* What the page wants at hand, besides "lay" and "aim" that hold it. */
static void json_wait(bfi_work *work, const double *rows, bfi_json *out) {
    const own *o = work->own;
    const bfi_job *aim = bfi_plan_job(&o->plan, BFI_JOB_AIM, o->spot);
    int wait = (int)(offsetof(bf_lay_out, wait_s) / sizeof(double));
    bfi_json_range_of(out, &bf_lay_out_table.field[wait], o->plan.spot[o->spot].lay[wait]);
    bfi_json_close(out);
    if (aim && !o->plan.is_nominal) bfi_json_chance(out, bfi_job_row(aim, rows, 0), aim->n_items);
}

/* The peg's number, as it was told. */
static void json_peg(const own *o, bfi_json *out) {
    size_t n;
    int value = option(o, "peg");
    if (value < 0) return;
    const char *raw = bf_json_raw(&o->request, value, &n);
    bfi_json_key(out, "peg");
    bfi_json_raw(out, raw, n);
}

static bf_status finish(bfi_work *work, const double *rows, bfi_json *out) {
    static const bf_note general[] = {
        {BF_NOTE_ESTIMATE, {0}}, {BF_NOTE_RULES_OF_THUMB, {0}}, {BF_NOTE_POWER_LINES, {0}}};
    own *o = work->own;
    json_peg(o, out);
    json_spot(work, out);
    json_shelf(o, out);
    bfi_json_spot_rig(work, o->spot, rows, out);
    json_rig_choice(work, out);
    bfi_json_close(out);
    json_half_hour(work, out);
    bfi_json_lay(work, o->spot, rows, out);
    bfi_json_aim(work, o->spot, rows, out);
    json_wait(work, rows, out);
    bf_status status = bfi_json_spot_pictures(work, o->spot, rows, out);
    if (status) return status;
    bfi_json_notes(out, general, (int)(sizeof general / sizeof general[0]));
    return BF_OK;
}

static size_t own_bytes(const bf_command *command) {
    (void)command;
    return bfi_room(sizeof(own)) + bf_json_bytes(BFI_TOKENS_MOST);
}

static size_t rows_bytes(const bf_command *command) {
    (void)command;
    return bfi_plan_rows_bytes(0, 1);
}

const bfi_verb bfi_peg_day_verb = {.name = "peg",
                                   .own_bytes = own_bytes,
                                   .spare_bytes = bfi_plan_spare_bytes,
                                   .rows_bytes = rows_bytes,
                                   .begin = begin,
                                   .scratch_bytes = bfi_plan_scratch_bytes,
                                   .next = bfi_plan_next,
                                   .range = bfi_plan_range,
                                   .finish = finish};
