/* plan_day.c -- the day around the fishing: what to prepare and when, what to pack, the venue's rules, rigs for a peg not yet
 * drawn, and the appointments as a calendar file. See plans.h. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/ics.h"
#include "baitfall/instant.h"
#include "baitfall/pack.h"
#include "baitfall/prep.h"
#include "baitfall/water.h"
#include "core/picture/words.h"
#include "text/plans.h"
#include "text/record.h"
#include "text/rules.h"

#define HOUR_S 3600.0

/* ---- The peg that is not drawn yet ---- */

static void put_remark(bfi_json *out, const char *code, const bf_said *said) {
    char text[320];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    if (said->code == BF_SAID_NOTHING) return;
    bfi_put_said(&pen, bf_said_sentence(said->code), said->number, NULL);
    bfi_json_object(out);
    bfi_json_key_text(out, "code", code);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

void bfi_put_set_rig(bfi_pen *pen, const bf_set_rig *rig) {
    const double made_m[1] = {rig->made_m};
    bfi_put_rig(pen, &rig->rig);
    bfi_put_said(pen, ", made {0:m} from float to hook", made_m, NULL);
}

static void put_set_rig(bfi_json *out, const bf_set_rig *rig) {
    char title[320];
    bfi_pen pen = bfi_pen_open(title, sizeof title);
    bfi_put_set_rig(&pen, rig);
    bfi_json_object(out);
    bfi_json_key_text(out, "title", title);
    bfi_json_key(out, "record");
    bfi_json_rig(out, &rig->rig);
    bfi_json_key_real(out, "made_m", rig->made_m);
    bfi_json_key_real(out, "needed_frac", rig->needed_frac);
    bfi_json_said(out, "text", &rig->said_needed, NULL);
    bfi_json_said(out, "covers", &rig->said_covers, NULL);
    bfi_json_close(out);
}

void bfi_set_stand(const bfi_plan *o, bf_stand *stand) {
    if (o->plan.n_spots > 0) {
        *stand = o->spot[0].stand;
        return;
    }
    bf_stand_start(stand);
    stand->scene.lake = o->plan.lake;
    stand->scene.spot.depth_m = bf_exactly(o->plan.unknown_peg.depth_most_m);
    bf_stand_settle(stand);
}

static bf_status put_unknown_peg(bfi_work *work, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_CONFIRM, 0);
    bf_rigset_confirmed confirmed[BF_RIGSET_MOST];
    bf_status status = o->set_status;
    for (int i = 0; i < BF_RIGSET_MOST; i++)
        memcpy(&confirmed[i], bfi_job_row(job, rows, i), sizeof confirmed[i]);
    if (!status) status = bf_rigset_settle(&o->plan.unknown_peg, confirmed, &o->rig_set);
    if (status)
        return bfi_fail(&work->error, status, "unknown_peg", NULL, -1, "depths and winds a rig can stand in");
    bfi_json_key(out, "unknown_peg");
    bfi_json_object(out);
    bfi_json_key(out, "rigs");
    bfi_json_array(out);
    for (int i = 0; i < o->rig_set.n_rigs; i++) put_set_rig(out, &o->rig_set.rig[i]);
    bfi_json_close(out);
    bfi_json_key_real(out, "uncovered_frac", o->rig_set.uncovered_frac);
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    put_remark(out, "uncovered", &o->rig_set.said_uncovered);
    put_remark(out, "hopeless", &o->rig_set.said_hopeless);
    put_remark(out, "least", &o->rig_set.said_exact);
    bfi_json_close(out);
    bfi_json_close(out);
    return BF_OK;
}

/* ---- Preparing ---- */

#define MOST_STEPS (BF_PLAN_BAITS * BF_PREP_STEPS_MOST + 1)
#define STEP_BYTES 256

typedef struct step {
    double at_s, for_s;
    const char *bait;
    char text[STEP_BYTES];
} step;

typedef struct steps {
    int n;
    step step[MOST_STEPS];
} steps;

/* To two figures, as anyone weighs it out. */
static double about(double value) {
    double unit = 1e-9;
    BF_ASSERT(value < 1e9);
    while (value >= 100 * unit) unit *= 10;
    return unit * floor(value / unit + 0.5);
}

/* Half minutes up to twenty minutes, then minutes, from an hour on five of them. */
static double round_span_s(double s) {
    double step_s = s <= 1200 ? 30 : s < HOUR_S ? 60 : 300;
    return step_s * floor(s / step_s + 0.5);
}

/* Three figures: more would be pretence. */
static void say(double value, bf_dimension dimension, char text[BF_SAY_MOST]) {
    bf_say_range((bf_range){value, value, value, value}, dimension, text);
}

static void say_amount(const bf_prep *prep, char text[BF_SAY_MOST]) {
    if (prep->mass_kg == prep->mass_kg)
        say(about(prep->mass_kg), BF_MASS, text);
    else if (prep->volume_m3 == prep->volume_m3)
        say(about(prep->volume_m3), BF_VOLUME, text);
    else
        memcpy(text, "what is needed", sizeof "what is needed");
}

/* Kept in order of time, to the whole minute before it; of the same time, in order of coming. */
static void add_step(steps *all, const bf_prep *prep, const char *bait) {
    char amount[BF_SAY_MOST], span[32];
    double at_s = 60 * floor(prep->at_s / 60);
    int at = all->n++;
    BF_ASSERT(at < MOST_STEPS);
    while (at > 0 && all->step[at - 1].at_s > at_s) {
        all->step[at] = all->step[at - 1];
        at--;
    }
    step *s = &all->step[at];
    bfi_pen pen = bfi_pen_open(s->text, sizeof s->text), span_pen = bfi_pen_open(span, sizeof span);
    say_amount(prep, amount);
    bfi_put_span(&span_pen, round_span_s(prep->for_s));
    s->at_s = at_s;
    s->for_s = prep->for_s;
    s->bait = bait;
    bfi_put_filled(&pen, bf_prep_sentence(prep->code), amount, span, bf_bait_name(bait));
}

static void make_steps(const bfi_work *work, steps *all) {
    const bfi_plan *o = work->own;
    static const bf_prep plumb = {BF_PREP_PLUMB, BF_PREP_PLUMB_S, 0, BF_NAN, BF_NAN};
    all->n = 0;
    for (int i = 0; i < o->plan.n_baits; i++) {
        bf_prep preps[BF_PREP_STEPS_MOST];
        const bf_plan_supply *supply = &o->supply[i];
        if (supply->n_put_ins == 0) continue;
        int n =
            bf_prep_bait(&o->plan.bait[i], supply->mass_kg, supply->volume_m3, BF_PREP_SPARE_START, preps);
        for (int k = 0; k < n; k++) add_step(all, &preps[k], bfi_plan_name(work, BF_PLAN_KIT_BAITS, i));
    }
    add_step(all, &plumb, "");
}

static double at_ms(const bfi_plan *o, const step *s) {
    return o->plan.session.starts_ms + 1000 * s->at_s;
}

static void put_step(const bfi_plan *o, const step *s, bfi_json *out) {
    char text[64];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    int has_clock = o->plan.session.starts_ms == o->plan.session.starts_ms;
    if (has_clock) {
        bfi_put_clock(&pen, at_ms(o, s), o->east_min, 0);
    } else {
        bfi_put_span(&pen, -s->at_s);
        bfi_put(&pen, " before");
    }
    bfi_json_object(out);
    bfi_json_key_real(out, "at_s", s->at_s);
    bfi_json_instant(out, "at", has_clock ? at_ms(o, s) : BF_NAN, o->east_min);
    bfi_json_key_text(out, "at_text", text);
    bfi_json_key_text(out, "bait", s->bait);
    bfi_json_key_text(out, "text", s->text);
    bfi_json_close(out);
}

static void put_prep(const bfi_plan *o, const steps *all, bfi_json *out) {
    bfi_json_key(out, "prep");
    bfi_json_array(out);
    for (int i = 0; i < all->n; i++) put_step(o, &all->step[i], out);
    bfi_json_close(out);
}

#define ICS_MOST 65536

static bf_status put_ics(bfi_work *work, const steps *all, bfi_json *out) {
    const bfi_plan *o = work->own;
    bf_ics_event events[MOST_STEPS];
    char name[128] = "", *text = work->spare;
    size_t n;
    int value = bfi_option(work, "name");
    if (o->plan.session.starts_ms != o->plan.session.starts_ms)
        return bfi_fail(&work->error, BF_E_MISSING, "session.starts", NULL, -1,
                        "an instant such as 2026-04-12T09:00:00+01:00");
    if (value >= 0 && bf_json_kind_of(&work->json, value) == BF_JSON_STRING &&
        bf_json_string(&work->json, value, name, sizeof name))
        name[sizeof name - 1] = 0; // a long name is cut
    for (int i = 0; i < all->n; i++)
        events[i] = (bf_ics_event){at_ms(o, &all->step[i]), all->step[i].for_s, all->step[i].text};
    bf_status status = bf_ics_write(name, events, all->n, o->ics_ms, text, ICS_MOST, &n);
    if (status) return bfi_fail(&work->error, status, "ics", NULL, -1, "");
    bfi_json_key_text(out, "ics", text);
    return BF_OK;
}

size_t bfi_plan_day_bytes(void) {
    return ICS_MOST;
}

/* ---- Packing ---- */

/* name: what is read for the id. */
static void put_named_item(bfi_json *out, const char *what, const char *id, const char *name, int count,
                           int spare, const char *text) {
    bfi_json_object(out);
    bfi_json_key_text(out, "what", what);
    bfi_json_key_text(out, "id", id);
    bfi_json_key_text(out, "name", name);
    bfi_json_key_real(out, "count", count);
    bfi_json_key_real(out, "spare", spare);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

static void put_item(bfi_json *out, const char *what, const char *id, int count, int spare,
                     const char *text) {
    put_named_item(out, what, id, id, count, spare, text);
}

static void put_bait_item(bfi_json *out, const char *what, const char *id, const char *text) {
    put_named_item(out, what, id, bf_bait_name(id), 1, 0, text);
}

/* With spares against what is lost in the part of the session that it is fished, which the text names. */
static void put_losable(const bfi_plan *o, bfi_json *out, bf_pack_kind kind, const char *id, int count,
                        double part, const char *what_it_is) {
    char text[384];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    int spare = bf_pack_spares(bf_pack_lost_per_h(kind), part * o->plan.session.hours, BF_PACK_RISK);
    bfi_put(&pen, what_it_is);
    if (spare > 0) {
        bfi_put(&pen, "; ");
        bfi_put_number_word(&pen, spare);
        bfi_put(&pen, " spare for ");
        bfi_put(&pen, bf_pack_loss(kind));
    }
    bfi_put(&pen, ".");
    put_item(out, bf_pack_word(kind), id, count, spare, text);
}

/* Spots that fish the same rig as this one: 0 when an earlier one does. */
static int spots_with_rig(const bfi_plan *o, int spot) {
    int n = 0, rig = o->plan.spot_use[spot].rig;
    for (int i = 0; i < o->plan.n_spots; i++) {
        int is_same = i == spot || (rig >= 0 && o->plan.spot_use[i].rig == rig);
        if (is_same && i < spot) return 0;
        n += is_same;
    }
    return n;
}

/* The session is shared among the spots; a set for a peg not known yet by how likely each rig is needed. */
static void pack_rigs(const bfi_work *work, bfi_json *out) {
    const bfi_plan *o = work->own;
    char text[320];
    for (int i = 0; i < o->plan.n_spots; i++) {
        int n = spots_with_rig(o, i), rig = o->plan.spot_use[i].rig;
        if (n == 0) continue;
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_rig(&pen, &o->spot[i].stand.rig);
        const char *id = rig >= 0 ? bfi_plan_name(work, BF_PLAN_KIT_RIGS, rig) : "";
        put_losable(o, out, BF_PACK_RIG, id, n, (double)n / o->plan.n_spots, text);
    }
    for (int i = 0; o->plan.has_unknown_peg && i < o->rig_set.n_rigs; i++) {
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_set_rig(&pen, &o->rig_set.rig[i]);
        put_losable(o, out, BF_PACK_RIG, "", 1, o->rig_set.rig[i].needed_frac, text);
    }
}

static void say_hooklength(const bf_rig *rig, char *text, size_t most) {
    char number[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, most);
    say(rig->hooklength.diameter_m, BF_LENGTH, number);
    bfi_put(&pen, "hooklength ");
    bfi_put(&pen, number);
    bfi_put(&pen, ", hook ");
    bfi_put_number(&pen, rig->hook.size, 0);
}

static void say_elastic(const bf_rig *rig, char *text, size_t most) {
    char number[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, most);
    say(rig->elastic.outer_m, BF_LENGTH, number);
    bfi_put(&pen, number);
    bfi_put(&pen, rig->elastic.bore_m > 0 ? " hollow elastic" : " elastic");
}

/* One row for everything that is said in the same words. */
static void pack_alike(const bfi_plan *o, bfi_json *out, bf_pack_kind kind,
                       void (*name)(const bf_rig *rig, char *text, size_t most)) {
    char text[BF_PLAN_SPOTS][96];
    int n[BF_PLAN_SPOTS] = {0}, spots[BF_PLAN_SPOTS] = {0};
    for (int i = 0; i < o->plan.n_spots; i++) {
        int first = 0;
        name(&o->spot[i].stand.rig, text[i], sizeof text[i]);
        while (strcmp(text[first], text[i]) != 0) first++;
        n[first] += spots_with_rig(o, i) > 0;
        spots[first]++;
    }
    for (int i = 0; i < o->plan.n_spots; i++)
        if (n[i] > 0) put_losable(o, out, kind, "", n[i], (double)spots[i] / o->plan.n_spots, text[i]);
}

static int uses_pot(const bfi_plan *o, int pot) {
    for (int i = 0; i < o->plan.n_lines; i++) {
        int how = o->plan.put[i].how, of_spot = o->plan.spot_use[o->plan.line[i].spot].pot;
        if ((how == BF_CLUMP || how == BF_SPRINKLE) && (of_spot >= 0 ? of_spot : 0) == pot) return 1;
    }
    return 0;
}

static int uses_sling(const bfi_plan *o, int sling) {
    for (int i = 0; i < o->plan.n_lines; i++) {
        int of_line = o->plan.line[i].sling;
        if (o->plan.put[i].how == BF_THROW && (of_line >= 0 ? of_line : 0) == sling) return 1;
    }
    return 0;
}

static int is_on_a_hook(const bfi_plan *o, int hook_bait) {
    for (int i = 0; i < o->plan.n_spots; i++)
        if (o->plan.spot_use[i].hook_bait == hook_bait) return 1;
    return 0;
}

static void pack_bait(const bfi_work *work, int bait, bfi_json *out) {
    const bfi_plan *o = work->own;
    const bf_plan_supply *supply = &o->supply[bait];
    char text[128], amount[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    double mass_kg =
        supply->mass_kg.mid == supply->mass_kg.mid ? supply->mass_kg.mid : supply->mass_kg.nominal;
    double with_spare_kg = mass_kg * (1 + BF_PREP_SPARE_START);
    say(about(supply->mass_kg.hi > with_spare_kg ? supply->mass_kg.hi : with_spare_kg), BF_MASS, amount);
    bfi_put(&pen, amount);
    bfi_put(&pen, " as it goes in, spare included.");
    put_bait_item(out, "bait", bfi_plan_name(work, BF_PLAN_KIT_BAITS, bait), text);
}

static void pack_pots(const bfi_work *work, bfi_json *out) {
    const bfi_plan *o = work->own;
    int n = o->plan.n_pots > 0 ? o->plan.n_pots : 1; // without any in the kit, one of start values
    for (int i = 0; i < n; i++)
        if (uses_pot(o, i))
            put_losable(o, out, BF_PACK_POT,
                        o->plan.n_pots > 0 ? bfi_plan_name(work, BF_PLAN_KIT_POTS, i) : "", 1, 1, "pole pot");
}

static void pack_nets(int count, bfi_json *out) {
    char text[32];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put_number(&pen, count, 0);
    bfi_put(&pen, count == 1 ? " keepnet." : " keepnets.");
    put_item(out, "net", "", count, 0, text);
}

static void put_pack(const bfi_work *work, bfi_json *out) {
    const bfi_plan *o = work->own;
    bfi_json_key(out, "pack");
    bfi_json_array(out);
    pack_rigs(work, out);
    pack_alike(o, out, BF_PACK_HOOKLENGTH, say_hooklength);
    pack_alike(o, out, BF_PACK_ELASTIC, say_elastic);
    pack_pots(work, out);
    for (int i = 0; i < (o->plan.n_slings > 0 ? o->plan.n_slings : 1); i++)
        if (uses_sling(o, i))
            put_item(out, "catapult", o->plan.n_slings > 0 ? bfi_plan_name(work, BF_PLAN_KIT_THROWS, i) : "",
                     1, 0, "Catapult.");
    for (int i = 0; i < o->plan.n_baits; i++)
        if (o->supply[i].n_put_ins > 0) pack_bait(work, i, out);
    for (int i = 0; i < o->plan.n_hook_baits; i++)
        if (is_on_a_hook(o, i))
            put_bait_item(out, "hook bait", bfi_plan_name(work, BF_PLAN_KIT_HOOK_BAITS, i), "For the hook.");
    if (o->plan.nets.count == o->plan.nets.count) pack_nets((int)o->plan.nets.count, out);
    bfi_json_close(out);
}

/* ---- Rules ---- */

#define RULES_MOST 32

int bfi_plan_rules(const bfi_work *work) {
    int venue = bfi_option(work, "venue");
    if (venue < 0 || bf_json_kind_of(&work->json, venue) != BF_JSON_OBJECT) return -1;
    return bf_json_find(&work->json, venue, "rules");
}

bf_status bfi_read_rules(bfi_work *work) {
    int venue = bfi_option(work, "venue"), rules = bfi_plan_rules(work), n = 0;
    char path[128];
    if (venue >= 0 && bf_json_kind_of(&work->json, venue) != BF_JSON_OBJECT)
        return bfi_fail(&work->error, BF_E_TYPE, "venue", &work->json, venue, "an object");
    if (rules < 0) return BF_OK;
    if (bf_json_kind_of(&work->json, rules) != BF_JSON_ARRAY)
        return bfi_fail(&work->error, BF_E_TYPE, "venue.rules", &work->json, rules, "an array of texts");
    for (int i = bf_json_first(&work->json, rules); i >= 0; i = bf_json_next(&work->json, i), n++) {
        bf_json_path(&work->json, i, path, sizeof path);
        if (n == RULES_MOST)
            return bfi_fail(&work->error, BF_E_COUNT, path, &work->json, -1, "up to 32 rules");
        if (bf_json_kind_of(&work->json, i) != BF_JSON_STRING)
            return bfi_fail(&work->error, BF_E_TYPE, path, &work->json, i, "text such as \"two nets\"");
    }
    return BF_OK;
}

static int floats(const bfi_plan *o, const bf_bait *bait) {
    return bait->density_kg_m3.value < bf_water_density_kg_m3(o->plan.lake.temp_c.value);
}

static int has_lead(const bf_rig *rig) {
    for (int i = 0; i < rig->n_shots; i++)
        if (bf_shot_metal(&rig->shot[i]) == BF_LEAD) return 1;
    for (int i = 0; i < rig->n_back_shots; i++)
        if (bf_shot_metal(&rig->back_shot[i]) == BF_LEAD) return 1;
    return 0;
}

static int is_pellet(const bf_bait *bait) {
    return bait->kind == BF_PELLET && (bait->form == BF_CYLINDER || bait->form == BF_SPHERE);
}

/* 1 when a name holds a stem. Stems are in small letters. */
static int holds_stem(const char *name, const char *stem) {
    size_t n = strlen(stem);
    for (; strlen(name) >= n; name++) {
        size_t i = 0;
        while (i < n && (name[i] | ('A' <= name[i] && name[i] <= 'Z' ? 32 : 0)) == stem[i]) i++;
        if (i == n) return 1;
    }
    return 0;
}

/* Which of the baits that venues bar by name it is; where neither name nor kind tells, it may be any. */
static void add_bait_name(const bf_bait *bait, const char *name, bf_rule_facts *facts) {
    int is_told = is_pellet(bait) || bait->form == BF_BALL;
    for (int i = 0; i < BF_RULE_N_BAITS; i++) {
        if (!holds_stem(name, bf_rule_stems[i])) continue;
        facts->is_bait[i] = is_told = 1;
    }
    for (int i = 0; i < BF_RULE_N_BAITS && !is_told; i++)
        if (facts->is_bait[i] == 0) facts->is_bait[i] = -1;
}

static void add_bait(const bfi_plan *o, const bf_bait *bait, const char *name, bf_rule_facts *facts) {
    const bf_quantity *size = &bait->diameter_m;
    facts->has_floating |= floats(o, bait);
    facts->has_live |= bait->kind == BF_LIVE;
    facts->has_groundbait |= bait->form == BF_BALL;
    add_bait_name(bait, name, facts);
    if (!is_pellet(bait)) return;
    double least_m = size->value - (size->is_unknown ? 0 : size->pm);
    facts->has_pellets = 1;
    facts->has_soft |= bait->state == BF_SOAKED;
    facts->has_hard |= bait->state != BF_SOAKED;
    if (least_m > facts->pellet_m) facts->pellet_m = least_m;
}

static double lesser(double a, double b) {
    return a < b ? a : b;
}

/* When the plan feeds: on the clock where its start is told, and against the end of the session. */
static void add_times(const bfi_plan *o, bf_rule_facts *facts) {
    const bf_plan_session *session = &o->plan.session;
    double day_ms = 86400000.0, local_ms = session->starts_ms + 60000.0 * o->east_min;
    double starts_s = (local_ms - day_ms * floor(local_ms / day_ms)) / 1000, end_s = session->hours * HOUR_S;
    double first_s = BF_INFINITY, last_s = 0;
    for (int i = 0; i < o->plan.n_lines; i++) {
        double line_last_s;
        if (o->plan.line[i].from_s >= end_s) continue;
        bf_plan_times(&o->plan, i, &line_last_s);
        first_s = lesser(first_s, o->plan.line[i].from_s);
        last_s = -lesser(-last_s, -lesser(line_last_s, end_s));
    }
    facts->feed_from_s = starts_s + first_s;
    facts->feed_until_s = starts_s + last_s;
    facts->feed_spare_s = end_s - last_s;
}

/* 1 when every rig says barbless, 0 when one says barbed, -1 when nobody can tell. */
static int is_barbless(const bfi_plan *o) {
    int all = o->plan.n_spots > 0;
    for (int i = 0; i < o->plan.n_spots; i++) {
        int barbs = o->spot[i].stand.rig.hook.barbs;
        if (barbs == BF_BARBED) return 0;
        all &= barbs == BF_BARBLESS;
    }
    return all ? 1 : -1;
}

static bf_rule_facts facts_of(const bfi_work *work) {
    const bfi_plan *o = work->own;
    bf_rule_facts facts = {.is_barbless = is_barbless(o),
                           .pole_m = o->plan.whole.pole_m,
                           .hook_size = BF_NAN,
                           .nets = o->plan.nets.count,
                           .net_kg = o->plan.nets.limit_kg};
    for (int i = 0; i < o->plan.n_spots; i++) {
        const bf_stand *stand = &o->spot[i].stand;
        double reach_m = bf_hypot(stand->scene.spot.distance_m.value, stand->scene.spot.side_m.value);
        facts.has_lead |= has_lead(&stand->rig);
        if (!(facts.pole_m >= reach_m)) facts.pole_m = reach_m;
        if (!(facts.hook_size <= stand->rig.hook.size)) facts.hook_size = stand->rig.hook.size;
        add_bait(o, &stand->hook_bait, bfi_plan_hook_bait(work, i), &facts);
    }
    for (int i = 0; i < o->plan.n_baits; i++) {
        if (o->supply[i].n_put_ins == 0) continue;
        const bf_range *mass = &o->supply[i].mass_kg;
        add_bait(o, &o->plan.bait[i], bfi_plan_name(work, BF_PLAN_KIT_BAITS, i), &facts);
        facts.feed_kg += mass->hi == mass->hi ? mass->hi : mass->nominal;
    }
    for (int i = 0; i < o->plan.n_lines; i++) {
        int how = o->plan.put[i].how;
        facts.has_throw |= how == BF_THROW;
        facts.has_pot |= how == BF_CLUMP || how == BF_SPRINKLE;
    }
    add_times(o, &facts);
    return facts;
}

/* 1 when a bait alone, fed or on a hook, breaks a rule. */
static int is_barred(const bfi_plan *o, const bf_rule *rule, const bf_bait *bait, const char *id) {
    bf_rule_facts facts = {.is_barbless = -1,
                           .pole_m = BF_NAN,
                           .hook_size = BF_NAN,
                           .nets = BF_NAN,
                           .net_kg = BF_NAN,
                           .feed_kg = BF_NAN,
                           .feed_from_s = BF_NAN,
                           .feed_until_s = BF_NAN,
                           .feed_spare_s = BF_NAN};
    add_bait(o, bait, id, &facts);
    return bf_rule_check(rule, &facts) == BF_RULE_BROKEN;
}

/* ": hard 4 mm pellets, soft 6 mm expanders": the baits that break a rule, each once; nothing for other rules. */
static void put_barred(bfi_pen *pen, const bfi_work *work, const bf_rule *rule) {
    const bfi_plan *o = work->own;
    const char *said[BF_PLAN_BAITS + BF_PLAN_SPOTS];
    int n = 0;
    for (int i = 0; i < o->plan.n_baits + o->plan.n_spots; i++) {
        int spot = i - o->plan.n_baits, is_fed = spot < 0;
        const char *id = is_fed ? bfi_plan_name(work, BF_PLAN_KIT_BAITS, i) : bfi_plan_hook_bait(work, spot);
        const bf_bait *bait = is_fed ? &o->plan.bait[i] : &o->spot[spot].stand.hook_bait;
        int k = 0;
        if ((is_fed && o->supply[i].n_put_ins == 0) || !is_barred(o, rule, bait, id)) continue;
        while (k < n && strcmp(said[k], id) != 0) k++;
        if (k < n) continue;
        said[n++] = id;
        bfi_put(pen, n == 1 ? ": " : ", ");
        bfi_put(pen, bf_bait_name(id));
    }
}

static void put_rule(bfi_work *work, int value, const bf_rule_facts *facts, bfi_json *out) {
    static const char *const why[BF_N_VERDICTS] = {
        [BF_RULE_KEPT] = " The plan keeps to it.",
        [BF_RULE_BROKEN] = " The plan does not keep to it",
        [BF_RULE_LOOK] = " The plan does not say: look yourself.",
    };
    char given[256], text[2048];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bf_rule rule;
    bf_verdict verdict = BF_RULE_LOOK;
    if (bf_json_string(&work->json, value, given, sizeof given))
        given[sizeof given - 1] = 0; // cut: too long to be one that is understood
    if (bfi_rule_read(given, strlen(given), &rule)) {
        verdict = bf_rule_check(&rule, facts);
        bfi_rule_say(&rule, text, sizeof text);
        pen = bfi_pen_open(text + strlen(text), sizeof text - strlen(text));
        bfi_put(&pen, why[verdict]);
        if (verdict == BF_RULE_BROKEN) {
            put_barred(&pen, work, &rule);
            bfi_put(&pen, ".");
        }
    } else {
        bfi_put(&pen, "\"");
        bfi_put(&pen, given);
        bfi_put(&pen, "\" is not understood here: read it on the venue's board.");
    }
    bfi_json_object(out);
    bfi_json_key_text(out, "rule", given);
    bfi_json_key_text(out, "status", bf_verdict_words[verdict]);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

static void put_rules(bfi_work *work, bfi_json *out) {
    bf_rule_facts facts = facts_of(work);
    int rules = bfi_plan_rules(work);
    bfi_json_key(out, "rules");
    bfi_json_array(out);
    for (int i = rules >= 0 ? bf_json_first(&work->json, rules) : -1; i >= 0;
         i = bf_json_next(&work->json, i))
        put_rule(work, i, &facts, out);
    bfi_json_close(out);
}

/* ---- The day ---- */

bf_status bfi_json_plan_day(bfi_work *work, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    steps all;
    bf_status status = BF_OK;
    if (o->is_nominal) return BF_OK;
    if (o->plan.has_unknown_peg) status = put_unknown_peg(work, rows, out);
    if (status) return status;
    make_steps(work, &all);
    put_prep(o, &all, out);
    if (o->ics_ms == o->ics_ms) status = put_ics(work, &all, out);
    if (status) return status;
    put_pack(work, out);
    put_rules(work, out);
    return BF_OK;
}
