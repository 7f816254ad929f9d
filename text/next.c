/* next.c -- the question "next": what to do next, and why (advise.h).
 *
 * The request is that of "bed", whose pictures and summary mean nothing here, and {"objective"? "weight" (start), "number", "target",
 *  "species"; "ahead_s"? 3600, shortened to the session's end; "target_kg"? else the session's; "given"? the "action" of the
 *  answer before, so that advice does not flap; "phone"? true: fewer actions and scenarios} ->
 * {"session":{"id","venue","peg","opened"}, "at","at_text","spot","known" as in "bed",
 *  "action": null where there is none, else {"what","spot","hook_bait","bait","count","how","wait_s","every_s","after_bite","text","short","times","at",
 *  "look_again_s","look_again"},
 *  "either": null, or the action that is as good as far as can be told, "kept", "objective","ahead_s","unit",
 *  "hour":{"mid","lo","hi","text"}, "gain":{"mid","lo","hi","text"}, "p_best", "odds": null or {"p","until","text","said","came","n"},
 *  "grounds":"book|own","sessions","learned_from","grounds_text",
 *  "reasons":[{"text","grounds":"book|today","events":[ids]}], "others":[action with "behind":{..},"p_more"],
 *  "changes_if":[{"reading","above","bound","share","action","text"}], "rests_on":{"rollouts","scenarios"}, "notes":[{"code","text"}]}
 * grounds "book": words alone; "hour", "gain" without numbers, "p_best", "odds", "p_more" and "share" null. A journal without a
 * session: {"session":null}. */
#include "text/next.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/base/room.h"
#include "text/rules.h"

/* ---- Judgement, where the record does not say ---- */

#define EVERY_S 480.0 /* from put-in to put-in */
#define LEAST_EVERY_S 60.0
#define MOST_EVERY_S 3600.0
#define BLANK_S 150.0 /* a drop without a bite */
#define LEAST_BLANK_S 30.0
#define MOST_BLANK_S 1800.0
#define PUT_IN_S 15.0   /* to turn a pot over and let it settle */
#define FISH_KG 0.7     /* a usual fish of a stocked pool */
#define LEAST_WEIGHED 5 /* fish weighed that are told from it */
#define AHEAD_S 3600.0
#define LEAST_AHEAD_S 600.0
#define MOST_AHEAD_S 18000.0
#define MOST_DRAWN 1024 /* particles of all sets */
#define LEAST_DRAWN 4

/* ---- Memory ---- */

static size_t work_bytes(void) {
    static const bf_belief_job belief = {.n_sets = BF_BELIEF_MOST_SETS};
    bf_advise_job job = {.belief = &belief, .n_run_off = BF_ADVISE_RUN_OFF};
    return bf_advise_bytes(&job);
}

static size_t spare_bytes(const bf_journal *journal) {
    return bfi_room(bfi_bed_spare_bytes(journal)) + bfi_room(sizeof(bfi_next)) + bfi_room(work_bytes());
}

static bfi_next *next_of(const bfi_ask *ask) {
    return (bfi_next *)(void *)((char *)ask->spare + bfi_room(bfi_bed_spare_bytes(ask->journal)));
}

static bfi_next *lay_out(bfi_ask *ask) {
    bfi_next *n = next_of(ask);
    memset(n, 0, sizeof *n);
    n->b = ask->spare;
    n->work = (char *)n + bfi_room(sizeof *n);
    return n;
}

/* ---- Names ---- */

const char *bfi_next_spot(const bfi_next *n, int spot) {
    return n->spot_name[spot] ? n->spot_name[spot] : bfi_bed_name(n->b, n->b->names.spot[spot]);
}
const char *bfi_next_feed(const bfi_next *n, int feed) {
    return n->feed_name[feed] ? n->feed_name[feed] : bfi_bed_name(n->b, n->b->names.feed[feed]);
}
const char *bfi_next_hook(const bfi_next *n, int hook) {
    return n->hook_name[hook] ? n->hook_name[hook] : bfi_bed_name(n->b, n->b->names.hook[hook]);
}

/* ---- What the record says ---- */

/* The middle of up to n numbers; sorts them. NaN: there are none. */
static double middle_of(double *x, int n) {
    bf_sort(x, (size_t)n);
    return bf_quantile_sorted(x, (size_t)n, 0.5);
}

static double within(double x, double least, double most, double start) {
    return isnan(x) ? start : x < least ? least : x > most ? most : x;
}

#define MIDDLE_OF 64 /* the last so many */

/* How long a drop is, half of them; 0: there was none. */
static double usual_drop_s(const bfi_bedded *b) {
    double drop_s[MIDDLE_OF], in_s = BF_NAN;
    int n = 0;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind == BF_SWIM_IN) in_s = event->t_s;
        if (event->kind != BF_SWIM_LIFT || isnan(in_s)) continue;
        drop_s[n++ % MIDDLE_OF] = event->t_s - in_s, in_s = BF_NAN;
    }
    return n ? middle_of(drop_s, n < MIDDLE_OF ? n : MIDDLE_OF) : 0;
}

/* A pot that is due waits until the rig is out, half a drop as a rule: the time between put-ins is longer than the one that is meant. */
static double usual_every_s(const bfi_next *n) {
    const bfi_bedded *b = n->b;
    double gap_s[MIDDLE_OF], planned_s = bfi_next_planned_every_s(n), late_s = 0.5 * usual_drop_s(b);
    int n_gaps = 0;
    for (int i = b->n_puts - 1; i > 0 && n_gaps < MIDDLE_OF; i--)
        gap_s[n_gaps++] = b->puts[i].t_s - b->puts[i - 1].t_s;
    double start_s = within(planned_s, LEAST_EVERY_S, MOST_EVERY_S, EVERY_S);
    return within(middle_of(gap_s, n_gaps) - late_s, LEAST_EVERY_S, MOST_EVERY_S, start_s);
}

static double usual_blank_s(const bfi_bedded *b) {
    double blank_s[MIDDLE_OF], in_s = BF_NAN;
    int n = 0;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind == BF_SWIM_IN) in_s = event->t_s;
        if (event->kind != BF_SWIM_LIFT) continue;
        if (event->outcome == BF_NOTHING && !isnan(in_s)) blank_s[n++ % MIDDLE_OF] = event->t_s - in_s;
        in_s = BF_NAN;
    }
    return within(middle_of(blank_s, n < MIDDLE_OF ? n : MIDDLE_OF), LEAST_BLANK_S, MOST_BLANK_S, BLANK_S);
}

static double told_kg(const bf_drop *drop) {
    return drop->mass_kg > 0 ? drop->mass_kg : drop->guess_kg;
}

/* The mean of all of the journal's fish whose weight was told. */
static void weigh_fish(bfi_next *n) {
    const bf_fold *fold = n->b->ask->fold;
    double sum = 0;
    for (int i = 0; i < fold->n_drops; i++) {
        if (fold->drop[i].outcome != BF_LANDED || !(told_kg(&fold->drop[i]) > 0)) continue;
        sum += told_kg(&fold->drop[i]);
        n->n_weighed++;
    }
    n->job.fish_kg = n->n_weighed >= LEAST_WEIGHED ? sum / n->n_weighed : FISH_KG;
}

/* Landed in this session by then, those without a weight as usual ones. */
static double landed_kg(const bfi_next *n) {
    const bf_fold *fold = n->b->ask->fold;
    const bf_session *session = n->b->session;
    double kg = 0;
    for (int i = session->drop_from; i < session->drop_to; i++) {
        const bf_drop *drop = &fold->drop[i];
        if (drop->outcome != BF_LANDED || drop->end_ms > n->b->at_ms) continue;
        kg += told_kg(drop) > 0 ? told_kg(drop) : n->job.fish_kg;
    }
    for (int i = session->stretch_from; i < session->stretch_to; i++)
        if (fold->stretch[i].to_ms <= n->b->at_ms) kg += fold->stretch[i].count[BF_LANDED] * n->job.fish_kg;
    return kg;
}

/* ---- Ways of feeding, hook baits ---- */

static int is_way(const bf_way *way, int spot, int feed, int how) {
    return way->spot == spot && way->feed == feed && way->how == how;
}

static void add_way(bfi_next *n, bf_way way) {
    bf_advise_job *job = &n->job;
    for (int i = 0; i < job->n_ways; i++)
        if (is_way(&job->way[i], way.spot, way.feed, way.how)) return;
    if (job->n_ways < BF_ADVISE_MOST_WAYS) job->way[job->n_ways++] = way;
}

/* The last put-in of each way comes first; other ways after those of the spot asked about. */
static void add_fed(bfi_next *n, int is_here) {
    const bfi_bedded *b = n->b;
    for (int i = b->n_events - 1; i >= 0; i--) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED || (event->spot == b->job.spot) != is_here) continue;
        add_way(n, (bf_way){event->spot, event->what, event->how, event->count, event->area_m2});
    }
}

/* Every other spot may be fed as this one is, and this one as the others are. */
static void add_elsewhere(bfi_next *n) {
    const bfi_bedded *b = n->b;
    if (!n->job.n_ways) return;
    bf_way usual = n->job.way[0];
    for (int s = 0; s < b->scene.n_spots; s++) {
        usual.spot = s, usual.area_m2 = b->scene.spot[s].area_m2[usual.how];
        add_way(n, usual);
    }
}

/* Puts the first way of the spot asked about before all others; 0: there is none. */
static int usual_first(bfi_next *n) {
    bf_advise_job *job = &n->job;
    for (int i = 0; i < job->n_ways; i++) {
        bf_way here = job->way[i];
        if (here.spot != n->b->job.spot) continue;
        job->way[i] = job->way[0], job->way[0] = here;
        return 1;
    }
    return 0;
}

/* Only other spots were fed or are planned to be: the same here. */
static void feed_here_too(bfi_next *n) {
    if (!n->job.n_ways) return;
    bf_way *usual = &n->job.way[0];
    n->job.n_ways = 1;
    usual->spot = n->b->job.spot;
    usual->area_m2 = n->b->scene.spot[usual->spot].area_m2[usual->how];
}

/* As it was fed comes before as it is planned, and this spot before others. */
static void find_ways(bfi_next *n) {
    add_fed(n, 1);
    if (!n->job.n_ways) bfi_next_planned_ways(n, add_way);
    if (!n->job.n_ways) add_fed(n, 0);
    if (!usual_first(n)) feed_here_too(n);
    add_fed(n, 0);
    bfi_next_planned_ways(n, add_way);
    add_elsewhere(n);
}

/* The one down last at the spot, else anywhere, first. */
static void find_hooks(bfi_next *n) {
    const bfi_bedded *b = n->b;
    int first = -1, anywhere = 0;
    for (int i = b->n_events - 1; i >= 0 && first < 0; i--) {
        if (b->event[i].kind != BF_SWIM_IN) continue;
        if (b->event[i].spot == b->job.spot) first = b->event[i].what;
        if (!anywhere) anywhere = 1 + b->event[i].what;
    }
    if (first < 0) first = anywhere ? anywhere - 1 : 0;
    n->job.hook[n->job.n_hooks++] = first;
    for (int h = 0; h < b->scene.n_hooks; h++)
        if (h != first) n->job.hook[n->job.n_hooks++] = h;
}

/* ---- The venue's rules, as far as the plan has them ---- */

static void drop_ways(bfi_next *n, int how) {
    int kept = 0;
    for (int i = 0; i < n->job.n_ways; i++)
        if (n->job.way[i].how != how) n->job.way[kept++] = n->job.way[i];
    n->job.n_ways = kept;
}

/* Of the session's hours; NaN where nobody said how long it is. */
static double left_s(const bfi_next *n) {
    return 3600 * n->b->session->hours - (n->b->at_ms - n->b->session->opened_ms) / 1000;
}

/* 1 when the rule bars feed at this instant. */
static int bars_feed_now(const bfi_next *n, const bf_rule *rule) {
    double since_s = n->b->at_ms / 1000 + 60 * n->b->session->east_min;
    double clock_s = since_s - 86400 * floor(since_s / 86400);
    return (rule->kind == BF_RULE_FEED_FROM && clock_s < rule->limit) ||
           (rule->kind == BF_RULE_FEED_UNTIL && clock_s > rule->limit) ||
           (rule->kind == BF_RULE_FEED_LAST && left_s(n) < rule->limit);
}

static void keep_rule(bfi_next *n, const char *text) {
    bf_rule rule;
    if (!bfi_rule_read(text, strlen(text), &rule))
        return; // the plan's own answer says that it is the reader's
    if (rule.kind == BF_RULE_FEED_MOST && rule.limit < n->feed_most_kg) n->feed_most_kg = rule.limit;
    n->is_barred |= bars_feed_now(n, &rule);
    if (rule.kind == BF_RULE_NO_THROW) drop_ways(n, BF_THROW);
    if (rule.kind == BF_RULE_NO_POT) drop_ways(n, BF_CLUMP), drop_ways(n, BF_SPRINKLE);
}

static void keep_rules(bfi_next *n) {
    const bf_json *json = &n->b->ask->json;
    int plan = bf_json_find(json, 0, "plan"), venue = plan >= 0 ? bf_json_find(json, plan, "venue") : -1;
    int is_object = venue >= 0 && bf_json_kind_of(json, venue) == BF_JSON_OBJECT;
    int rules = is_object ? bf_json_find(json, venue, "rules") : -1;
    char text[256];
    n->feed_most_kg = BF_INFINITY, n->is_barred = 0;
    if (rules >= 0 && bf_json_kind_of(json, rules) == BF_JSON_ARRAY)
        for (int i = bf_json_first(json, rules); i >= 0; i = bf_json_next(json, i))
            if (bf_json_kind_of(json, i) == BF_JSON_STRING &&
                bf_json_string(json, i, text, sizeof text) == BF_OK)
                keep_rule(n, text);
    for (int i = 0; i < n->b->n_events; i++)
        if (n->b->event[i].kind == BF_SWIM_FEED)
            n->fed_kg += n->b->event[i].count * n->b->scene.feed[n->b->event[i].what].piece_kg;
    n->job.most_kg = n->feed_most_kg > n->fed_kg && !n->is_barred ? n->feed_most_kg - n->fed_kg : 0;
}

/* ---- The request ---- */

static bf_status read_word(bfi_ask *ask, const char *key, const char *const *words, int start, int *choice) {
    int value = bf_json_find(&ask->json, 0, key);
    *choice = start;
    return value < 0 ? BF_OK : bfi_read_choice(&ask->json, value, key, words, choice, &ask->error);
}

bf_status bfi_next_objective(bfi_next *n) {
    bfi_ask *ask = n->b->ask;
    bf_status status = read_word(ask, "objective", bf_objective_words, BF_FOR_WEIGHT, &n->job.objective);
    double target_kg;
    if (!status) status = bfi_ask_number(ask, "target_kg", 0.01, 1000, n->b->session->target_kg, &target_kg);
    if (status || n->job.objective != BF_FOR_TARGET) return status;
    if (!(target_kg > 0))
        return bfi_ask_fail(ask, BF_E_MISSING, "target_kg", "a weight, when the objective is target");
    double missing_kg = target_kg - landed_kg(n);
    n->job.target_kg = missing_kg > 0.01 ? missing_kg : 0.01;
    return BF_OK;
}

static bf_status read_ahead(bfi_next *n) {
    bf_status status =
        bfi_ask_number(n->b->ask, "ahead_s", LEAST_AHEAD_S, MOST_AHEAD_S, AHEAD_S, &n->job.for_s);
    double left = left_s(n);
    n->is_near_end = left < LEAST_AHEAD_S, n->is_over = left < BF_ADVISE_LEAST_S;
    n->is_to_end = left <= n->job.for_s;
    if (!status && n->is_to_end) n->job.for_s = left;
    return status;
}

static bf_status read_setting(bfi_next *n) {
    const bf_json *json = &n->b->ask->json;
    int value = bf_json_find(json, 0, "phone");
    bf_json_kind kind = value >= 0 ? bf_json_kind_of(json, value) : BF_JSON_FALSE;
    if (kind != BF_JSON_TRUE && kind != BF_JSON_FALSE)
        return bfi_ask_fail(n->b->ask, BF_E_TYPE, "phone", "true or false");
    int is_phone = kind == BF_JSON_TRUE;
    n->job.n_acts_most = is_phone ? BF_ADVISE_PHONE_ACTS : BF_ADVISE_MOST_ACTS;
    n->job.n_scenarios = is_phone ? BF_ADVISE_PHONE_SCENARIOS : BF_ADVISE_SCENARIOS;
    n->job.n_run_off = is_phone ? BF_ADVISE_PHONE_RUN_OFF : BF_ADVISE_RUN_OFF;
    return BF_OK;
}

/* ---- Advice given before ---- */

static int index_of(const bfi_next *n, const char *(*name)(const bfi_next *, int), int count, int object,
                    const char *key) {
    const bf_json *json = &n->b->ask->json;
    int value = bf_json_find(json, object, key);
    char text[BF_NAME_BYTES + 1];
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_STRING ||
        bf_json_string(json, value, text, sizeof text))
        return -1;
    for (int i = 0; i < count; i++)
        if (strcmp(name(n, i), text) == 0) return i;
    return -1;
}

static int word_of(const bf_json *json, int object, const char *key, const char *const *words) {
    int value = bf_json_find(json, object, key);
    for (int i = 0; value >= 0 && words[i]; i++)
        if (bf_json_is(json, value, words[i])) return i;
    return -1;
}

static int is_true(const bf_json *json, int object, const char *key) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_TRUE;
}

static double number_of(const bf_json *json, int object, const char *key) {
    int value = bf_json_find(json, object, key);
    double number;
    return value >= 0 && bf_json_number(json, value, &number) == BF_OK ? number : BF_NAN;
}

/* Nearly what was said. */
static int is_as_given(const bf_act *given, const bf_swim_event *fed) {
    return given->every_s > 0 && fed->spot == given->spot && fed->what == given->feed &&
           fed->how == given->how && fed->count < 1.5 * given->count && given->count < 1.5 * fed->count;
}

/* Feed that has gone in since as it was not said ends it; a bite, or what the angler saw, upsets it. */
static void look_since(bfi_next *n) {
    double given_s = (n->given_ms - n->b->begins_ms) / 1000;
    for (int i = 0; i < n->b->n_events; i++) {
        const bf_swim_event *event = &n->b->event[i];
        if (event->t_s <= given_s) continue;
        if (event->kind == BF_SWIM_FEED && !is_as_given(&n->job.given, event)) n->job.has_given = 0;
        n->job.is_upset |= (event->kind == BF_SWIM_LIFT && event->outcome < BF_NOTHING) ||
                           event->kind == BF_SWIM_LOOK || event->kind == BF_SWIM_TALLY;
    }
}

/* Things of this session, a way of feeding that there is, no more than may go in, and its time is not up. */
static int is_possible(const bfi_next *n, const bf_act *act, int names_bait) {
    const bf_advise_job *job = &n->job;
    if (act->what < 0 || act->spot < 0 || act->hook < 0 || !(job->given_ago_s >= 0)) return 0;
    if (act->what == BF_WHAT_WAIT && !(act->wait_s <= MOST_AHEAD_S)) return 0;
    if (act->feed < 0) return !names_bait;
    if (act->every_s != 0 && !(act->every_s >= LEAST_EVERY_S && act->every_s <= MOST_AHEAD_S)) return 0;
    if (act->what == BF_WHAT_WAIT && act->wait_s <= 0 && act->every_s == 0) return 0;
    if (!(act->count > 0 && act->count * n->b->scene.feed[act->feed].piece_kg <= job->most_kg)) return 0;
    for (int i = 0; i < job->n_ways; i++)
        if (is_way(&job->way[i], act->spot, act->feed, act->how)) return act->count <= 1e6;
    return 0;
}

/* What is not possible here was not given. */
static bf_status read_given(bfi_next *n) {
    bfi_ask *ask = n->b->ask;
    const bf_json *json = &ask->json;
    int given = bf_json_find(json, 0, "given"), east_min;
    char at[BF_INSTANT_BYTES];
    if (given < 0 || bf_json_kind_of(json, given) == BF_JSON_NULL) return BF_OK;
    if (bf_json_kind_of(json, given) != BF_JSON_OBJECT)
        return bfi_ask_fail(ask, BF_E_TYPE, "given", "the action of an answer before, or null");
    int value = bf_json_find(json, given, "at"), bait = bf_json_find(json, given, "bait");
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_STRING ||
        bf_json_string(json, value, at, sizeof at) ||
        bf_instant_read(at, strlen(at), &n->given_ms, &east_min))
        return bfi_ask_fail(ask, BF_E_MISSING, "given", "an action with \"at\", the instant it was given");
    const bfi_bedded *b = n->b;
    bf_act *act = &n->job.given;
    *act = (bf_act){.what = word_of(json, given, "what", bf_what_words),
                    .spot = index_of(n, bfi_next_spot, b->scene.n_spots, given, "spot"),
                    .hook = index_of(n, bfi_next_hook, b->scene.n_hooks, given, "hook_bait"),
                    .feed = index_of(n, bfi_next_feed, b->scene.n_feeds, given, "bait"),
                    .how = word_of(json, given, "how", bf_how_words),
                    .count = number_of(json, given, "count"),
                    .every_s = number_of(json, given, "every_s"),
                    .after_bite = is_true(json, given, "after_bite")};
    if (isnan(act->every_s)) act->every_s = act->feed < 0 ? BF_INFINITY : 0;
    n->job.given_ago_s = (b->at_ms - n->given_ms) / 1000;
    act->wait_s = number_of(json, given, "wait_s") - n->job.given_ago_s;
    if (act->what != BF_WHAT_WAIT) act->wait_s = 0;
    int fits = is_possible(n, act, bait >= 0 && bf_json_kind_of(json, bait) == BF_JSON_STRING);
    if (fits && act->feed >= 0) act->area_m2 = b->scene.spot[act->spot].area_m2[act->how];
    n->job.has_given = fits;
    if (fits) look_since(n);
    return BF_OK;
}

/* ---- The job ---- */

void bfi_next_fill(bfi_next *n) {
    bfi_bedded *b = n->b;
    bf_advise_job *job = &n->job;
    job->belief = &b->job;
    job->seed = b->job.seed;
    job->every_s = usual_every_s(n);
    job->blank_s = usual_blank_s(b);
    job->busy_s = b->turnaround.mid_s > 0 ? b->turnaround.mid_s : BF_TURNAROUND_S;
    job->put_in_s = PUT_IN_S;
    for (int s = 0; s < BF_SWIM_MOST_SPOTS; s++) job->since_put_s[s] = BF_INFINITY;
    for (int i = 0; i < b->n_events; i++)
        if (b->event[i].kind == BF_SWIM_FEED)
            job->since_put_s[b->event[i].spot] = b->job.until_s - b->event[i].t_s;
    double last_s = b->n_puts ? b->puts[b->n_puts - 1].t_s : -1;
    bfi_bed_drops drops = bfi_bed_drops_in(b, last_s, b->job.until_s);
    job->n_bites =
        drops.count[BF_LANDED] + drops.count[BF_LOST] + drops.count[BF_MISSED] + drops.count[BF_FOUL];
    weigh_fish(n);
    find_ways(n);
    find_hooks(n);
    keep_rules(n);
}

static int drawn_of(const bf_belief_job *job) {
    int drawn = MOST_DRAWN / job->n_sets;
    drawn = drawn < LEAST_DRAWN ? LEAST_DRAWN : drawn;
    return drawn < job->n_particles ? drawn : job->n_particles;
}

static bf_status begin(bfi_ask *ask) {
    bf_status status = bfi_bed_begin(ask);
    bfi_next *n = lay_out(ask);
    if (status || !ask->job) return status;
    bfi_next_take_plan(n);
    bfi_next_fill(n);
    status = bfi_next_objective(n);
    if (!status) status = read_ahead(n);
    if (!status) status = read_setting(n);
    if (!status) status = read_given(n);
    if (status) return status;
    n->odds = bf_odds_of(ask->fold, n->b->session->opened_ms, n->b->at_ms);
    n->b->job.n_drawn = drawn_of(&n->b->job);
    if (!n->job.n_ways || n->is_over || n->b->at_ms >= n->b->session->closed_ms)
        ask->job = NULL; // nothing to advise
    return BF_OK;
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    bfi_bedded *b = ask->spare;
    bfi_next *n = next_of(ask);
    if (!b->session) {
        bfi_json_key_real(out, "session", BF_NAN); // null
        return BF_OK;
    }
    if (ask->job) {
        bf_belief_bed(&b->job, ask->rows, b->spare, &b->bed);
        bf_advise(&n->job, ask->rows, n->work, &n->advice);
    }
    bfi_json_bed_session(out, b);
    bfi_json_bed_known(out, b);
    bfi_json_next(out, n);
    return BF_OK;
}

const bfi_ask_verb bfi_next_verb = {"next", spare_bytes, answer, begin};
