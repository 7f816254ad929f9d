/* bed_scene.c -- what baits, pots, spots and rigs make of a session's record: the scene of the swim's model, and how many pieces
 * each put-in is and where they lie. */
#include <math.h>
#include <string.h>

#include "baitfall/aim.h"
#include "baitfall/elementary.h"
#include "baitfall/pot.h"
#include "baitfall/soak.h"
#include "core/base/room.h"
#include "text/bedded.h"
#include "text/plans.h"

/* ---- What the request brings along ---- */

static const bf_section kit_sections[] = {BFI_KIT_SECTIONS(struct bfi_bed_told)};
static const bf_schema kit_schema = {"question", sizeof(struct bfi_bed_told), kit_sections,
                                     sizeof kit_sections / sizeof kit_sections[0]};
enum { KIT_BAITS, KIT_HOOK_BAITS, KIT_POTS };

#define PLAN_TOKENS 8192

/* Of spare: a plan's tokens; or one aim, or the draws of a put-in. */
#define DRAWS 16
#define AIM_DRAWS 256

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

static size_t spread_columns(void) {
    return sizeof(bf_spread_out) / sizeof(double) + BF_SPREAD_RAW;
}

static bf_ensemble spread_ensemble(const bf_scene *scene) {
    return (bf_ensemble){.schema = &bf_spread_schema,
                         .record = scene,
                         .model = bf_spread_model,
                         .n_out = bf_spread_out_table.n_fields,
                         .n_raw = BF_SPREAD_RAW,
                         .seed = 1,
                         .n_draws = DRAWS};
}

static size_t spread_bytes(void) {
    bf_ensemble ensemble = spread_ensemble(NULL);
    return bfi_room(bf_ensemble_work_bytes(&ensemble)) + DRAWS * spread_columns() * sizeof(double);
}

static size_t aim_bytes(void) {
    static const bf_schema schema = {"aim", sizeof(bf_aiming), NULL, 0};
    bf_ensemble ensemble = {.schema = &schema, .n_draws = AIM_DRAWS};
    return bfi_room(sizeof(bf_aiming)) + bfi_room(bf_ensemble_work_bytes(&ensemble)) +
           (size_t)AIM_DRAWS * BF_AIM_ROW * sizeof(double);
}

size_t bfi_bed_scene_bytes(void) {
    return larger(bfi_room(bf_json_bytes(PLAN_TOKENS)), larger(spread_bytes(), aim_bytes()));
}

static bf_status read_plan(bfi_bedded *b) {
    bf_json json;
    bf_json_fault fault;
    bf_error *error = &b->ask->error;
    int value = bf_json_find(&b->ask->json, 0, "plan");
    size_t n;
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(&b->ask->json, value) != BF_JSON_OBJECT)
        return bfi_ask_fail(b->ask, BF_E_TYPE, "plan", "a plan: an object");
    const char *text = bf_json_raw(&b->ask->json, value, &n);
    if (bf_json_read(text, n, b->spare, PLAN_TOKENS, &json, &fault))
        return bfi_fail_json(error, "The plan", &json, &fault);
    bf_status status = bfi_read_plan_record(&b->reader, &json, &b->plan, &b->plan_names, error);
    if (!status) status = bfi_check_plan_record(&b->plan, &b->plan_names, error);
    b->has_plan = !status;
    return status;
}

bf_status bfi_bed_read(bfi_bedded *b) {
    static const char *const others[] = {
        "session",   "at",        "now",       "spot",  "plan",    "seed",
        "sets",      "particles", "pictures",  "look",  "learned", "summary",
        "objective", "ahead_s",   "target_kg", "given", "phone", /* of "next" */
        "starts",    "hours",     "before",    "truth",          /* of "rehearse" */
        "otherwise",                                             /* of the question of that name */
        NULL};
    bf_fault fault;
    bf_schema_start(&kit_schema, &b->told);
    bf_status status = bfi_read_record(&b->reader, &b->ask->json, &kit_schema, &b->told, others,
                                       &b->kit_names, &b->ask->error);
    if (status) return status;
    if (bf_schema_check(&kit_schema, &b->told, &fault))
        return bfi_fail_fault(&b->ask->error, &b->kit_names, &fault);
    return read_plan(b);
}

/* ---- Things by name ---- */

/* The row of a name in a section of the plan or the kit, -1. */
static int row_of(const bfi_names *names, const bf_section *section, int n, const char *name) {
    for (int i = 0; i < n; i++)
        if (strcmp(bfi_name_of(names, section, i), name) == 0) return i;
    return -1;
}

static const bf_bait *plan_bait(const bfi_bedded *b, const char *name, int is_hook) {
    const bf_section *section = bf_plan_schema.section;
    if (!b->has_plan) return NULL;
    int i =
        is_hook ? row_of(&b->plan_names, &section[BF_PLAN_KIT_HOOK_BAITS], b->plan.n_hook_baits, name) : -1;
    if (i >= 0) return &b->plan.hook_bait[i];
    i = row_of(&b->plan_names, &section[BF_PLAN_KIT_BAITS], b->plan.n_baits, name);
    return i >= 0 ? &b->plan.bait[i] : NULL;
}

static const bf_bait *kit_bait(const bfi_bedded *b, const char *name, int is_hook) {
    const bfi_kit *kit = &b->told.kit;
    int i = is_hook ? row_of(&b->kit_names, &kit_sections[KIT_HOOK_BAITS], kit->n_hook_baits, name) : -1;
    if (i >= 0) return &kit->hook_bait[i];
    i = row_of(&b->kit_names, &kit_sections[KIT_BAITS], kit->n_baits, name);
    return i >= 0 ? &kit->bait[i] : NULL;
}

/* Of the plan, else of the kit, else of the catalogue; NULL: nobody knows it. */
const bf_bait *bfi_bed_bait(const bfi_bedded *b, const char *text, int is_hook) {
    const bf_bait *bait = plan_bait(b, text, is_hook);
    if (!bait) bait = kit_bait(b, text, is_hook);
    int i = bait ? -1 : bf_catalogue_find(text, strlen(text));
    return i >= 0 ? &bf_catalogue[i].bait : bait;
}

/* The plan's spot of this name, -1. */
static int plan_spot(const bfi_bedded *b, int name) {
    return b->has_plan && name >= 0 ? row_of(&b->plan_names, &bf_plan_schema.section[BF_PLAN_SPOT],
                                             b->plan.n_spots, bfi_bed_name(b, name))
                                    : -1;
}

/* ---- Baits on the bed and on the hook ---- */

/* From soft throughout to crumbs; what does not soften stays until it is eaten or buried; a ball of groundbait falls apart
 * (judgement, all three). */
#define CRUMBLES_S 2700.0
#define STAYS_S 21600.0
#define BALL_S 900.0

static double lasting_s(const bf_bait *bait, double temp_c) {
    bf_scene scene;
    bf_soak_out soak;
    if (bait->form == BF_BALL) return BALL_S;
    if (bait->kind != BF_PELLET) return STAYS_S;
    if (bait->state == BF_SOAKED) return CRUMBLES_S;
    bf_scene_start(&scene);
    if (!isnan(temp_c)) scene.soaking.temp_c = bf_exactly(temp_c);
    int is_known = bf_soak(bait, &scene.soaking, &soak) == BF_OK && soak.through_s > 0;
    double lasts_s = is_known ? soak.through_s + CRUMBLES_S : STAYS_S;
    return lasts_s < STAYS_S ? lasts_s : STAYS_S;
}

static double piece_m(const bf_bait *bait) {
    return bf_piece_equivalent_m(bait->form, bait->diameter_m.value, bait->length_m.value);
}

/* Dry: what a soaked piece has taken up is no food. */
static double piece_kg(const bf_bait *bait) {
    double scatter = bait->size_scatter_frac;
    double volume_m3 = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    double kg = volume_m3 * (1 + 3 * scatter * scatter) * bait->density_kg_m3.value;
    return bait->state == BF_SOAKED ? kg / (1 + bait->uptake_frac.value) : kg;
}

bf_swim_feed bfi_bed_feed(const bf_bait *bait, double temp_c) {
    return (bf_swim_feed){.diameter_m = piece_m(bait),
                          .piece_kg = piece_kg(bait),
                          .lasting_s = lasting_s(bait, temp_c),
                          .is_soft = bait->state == BF_SOAKED || bait->kind != BF_PELLET,
                          .lasting_factor = BF_STORY_LASTING_FACTOR};
}

bf_swim_hook bfi_bed_hook(const bf_bait *bait) {
    int is_hard = bait->kind == BF_PELLET && bait->state != BF_SOAKED;
    return (bf_swim_hook){.diameter_m = piece_m(bait), .is_hard = is_hard};
}

static void take_baits(bfi_bedded *b) {
    bf_swim_scene *scene = &b->scene;
    for (int i = 0; i < scene->n_feeds; i++) {
        const bf_bait *bait = bfi_bed_bait(b, bfi_bed_name(b, b->names.feed[i]), 0);
        if (bait) scene->feed[i] = bfi_bed_feed(bait, scene->temp_c);
    }
    for (int i = 0; i < scene->n_hooks; i++) {
        const bf_bait *bait = bfi_bed_bait(b, bfi_bed_name(b, b->names.hook[i]), 1);
        if (bait) scene->hook[i] = bfi_bed_hook(bait);
    }
}

/* ---- Where the spots are ---- */

static void take_plumbed(bfi_bedded *b, int name, bf_swim_spot *spot) {
    const bf_session *s = b->session;
    for (int i = s->live_from; i < s->live_to; i++) {
        const bf_live *live = &b->ask->fold->live[i];
        if (live->kind != BF_PLUMB || live->is_crossed || live->body.spot != name || live->t_ms > b->at_ms)
            continue;
        if (!isnan(live->body.depth_m)) spot->depth_m = live->body.depth_m;
        if (!isnan(live->body.distance_m)) spot->distance_m = live->body.distance_m;
        if (!isnan(live->body.side_m)) spot->side_m = live->body.side_m;
    }
}

/* The middle of a few numbers, those that are none left out; NaN: there are none. Sorts them. */
static double middle_of(double *x, int n) {
    int known = 0;
    for (int i = 0; i < n; i++) {
        double held = x[i];
        int at = known;
        if (isnan(held)) continue;
        for (; at > 0 && x[at - 1] > held; at--) x[at] = x[at - 1];
        x[at] = held;
        known++;
    }
    return known ? (x[(known - 1) / 2] + x[known / 2]) / 2 : BF_NAN;
}

/* How far hook bait and bed miss each other half the time, with the plan's rig at its spot; NaN: not known. */
static double miss_m(const bfi_bedded *b, int spot) {
    bf_stand stand;
    double *rows, miss[AIM_DRAWS];
    bf_aiming *aiming = b->spare;
    if (b->plan.spot_use[spot].rig < 0 || bf_plan_stand(&b->plan, spot, &stand) < 0) return BF_NAN;
    bf_stand_settle(&stand);
    if (bf_aim_prepare(&stand, aiming)) return BF_NAN;
    bf_ensemble ensemble = bf_aim_ensemble(aiming, 1, AIM_DRAWS);
    char *work = (char *)b->spare + bfi_room(sizeof *aiming);
    rows = (double *)(void *)(work + bfi_room(bf_ensemble_work_bytes(&ensemble)));
    bf_status status = bf_ensemble_range(&ensemble, 0, AIM_DRAWS, work, rows);
    (void)status; // a draw without an answer is NaN, and left out
    for (int i = 0; i < AIM_DRAWS; i++) miss[i] = rows[i * (ensemble.n_out + ensemble.n_raw)];
    return middle_of(miss, AIM_DRAWS);
}

static void take_spots(bfi_bedded *b) {
    for (int i = 0; i < b->scene.n_spots; i++) {
        bf_swim_spot *spot = &b->scene.spot[i];
        int name = b->names.spot[i], planned = plan_spot(b, name);
        if (planned >= 0) {
            spot->depth_m = b->plan.spot[planned].depth_m.value;
            spot->distance_m = b->plan.spot[planned].distance_m.value;
            spot->side_m = b->plan.spot[planned].side_m.value;
            double miss = miss_m(b, planned);
            b->has_aim[i] = !isnan(miss);
            if (b->has_aim[i]) {
                spot->miss_pm_m *= miss / spot->miss_m;
                spot->miss_m = miss;
            }
        }
        take_plumbed(b, name, spot);
    }
}

/* ---- What a put-in comes to ---- */

/* The plan's line of feed for a put-in: of its spot and bait, by its way when there is one, -1. */
static int plan_line(const bfi_bedded *b, int spot, const bf_put_in *put) {
    const char *bait = put->bait >= 0 ? bfi_bed_name(b, put->bait) : "";
    int found = -1;
    for (int i = 0; spot >= 0 && i < b->plan.n_lines; i++) {
        const bf_plan_line *line = &b->plan.line[i];
        const char *name =
            bfi_name_of(&b->plan_names, &bf_plan_schema.section[BF_PLAN_KIT_BAITS], line->bait);
        if (line->spot != spot || strcmp(name, bait) != 0) continue;
        if (b->plan.put[i].how == put->how) return i;
        if (found < 0) found = i;
    }
    return found;
}

static void take_pot(const bfi_bedded *b, int spot, bf_pot *pot) {
    const bfi_kit *kit = &b->told.kit;
    if (spot >= 0 && b->plan.n_pots > 0) {
        int i = b->plan.spot_use[spot].pot;
        *pot = b->plan.pot[i >= 0 ? i : 0];
    } else if (kit->n_pots > 0) {
        int mine = row_of(&b->kit_names, &kit_sections[KIT_POTS], kit->n_pots, bfi_own_name(&bf_pot_table));
        if (mine >= 0 || kit->n_pots == 1) *pot = kit->pot[mine >= 0 ? mine : 0];
    }
}

/* The pot that the entry tells: so much of one of this volume; or a volume, as if it were a pot struck level. */
static void tell_pot(const bf_put_in *put, bf_pot *pot) {
    if (!isnan(put->pot_m3)) pot->volume_m3 = bf_exactly(put->pot_m3);
    if (!isnan(put->fill_frac)) pot->fill_frac = bf_exactly(put->fill_frac);
    if (isnan(put->volume_m3)) return;
    pot->volume_m3 = bf_exactly(put->volume_m3);
    pot->fill_frac = bf_exactly(1);
}

#define GUESS "hard-4" /* a bait that nobody knows: as large as bf_story_start_scene has it */

static void put_scene(const bfi_bedded *b, const bf_put_in *put, int spot, bf_scene *scene) {
    const bf_body *body = &b->ask->fold->live[put->live].body;
    const bf_swim_spot *where = &b->scene.spot[spot];
    int planned = plan_spot(b, put->spot), line = plan_line(b, planned, put);
    const bf_bait *bait = bfi_bed_bait(b, bfi_bed_name(b, put->bait), 0);
    if (line >= 0) {
        bf_plan_put planned_put;
        bf_plan_put_in(&b->plan, line, &planned_put);
        *scene = planned_put.scene;
        scene->pot.fill_frac = bf_exactly(1);
    } else {
        bf_scene_start(scene);
        if (b->has_plan) scene->lake = b->plan.lake;
        scene->bait = bait ? *bait : bf_catalogue[bf_catalogue_find(GUESS, strlen(GUESS))].bait;
        if (planned >= 0) scene->spot = b->plan.spot[planned];
        take_pot(b, planned, &scene->pot);
    }
    if (!isnan(b->scene.temp_c)) scene->lake.temp_c = bf_exactly(b->scene.temp_c);
    scene->spot.depth_m = bf_exactly(where->depth_m);
    if (where->distance_m > 0) scene->spot.distance_m = bf_exactly(where->distance_m);
    scene->spot.side_m = bf_exactly(where->side_m);
    scene->put.how = put->how < 0 ? BF_CLUMP : put->how;
    if (!isnan(body->over_s)) scene->put.over_s = bf_exactly(body->over_s);
    if (!isnan(body->wide_m)) scene->put.wide_m = bf_exactly(body->wide_m);
    scene->put.count = put->count;
    tell_pot(put, &scene->pot);
    bf_scene_settle(scene);
}

static double pieces_of(const bf_put_in *put, const bf_scene *scene) {
    bf_pot_out pot;
    if (!isnan(put->count)) return put->count;
    if (bf_pot_holds(&scene->bait, &scene->pot, &scene->counted, &pot)) return 0;
    int is_measured = !isnan(put->volume_m3) || !isnan(put->fill_frac);
    return is_measured ? pot.pieces : bf_put_pieces(scene, pot.pieces);
}

/* How far off that may be, as a share: a pot filled so and so far by eye and shaken down or not; one of which nothing was told may have
 * been half full. Judgement. */
#define FILLED_PM_FRAC 0.15
#define UNTOLD_PM_FRAC 0.35

static double pieces_pm_frac(const bf_put_in *put) {
    if (!isnan(put->count)) return 0;
    return isnan(put->volume_m3) && isnan(put->fill_frac) ? UNTOLD_PM_FRAC : FILLED_PM_FRAC;
}

/* Asks the feed room where such a put-in lies: the middle of a few draws. */
static void spread_patch(bfi_bedded *b, const bf_scene *scene, bfi_patch *patch) {
    double wide_m[DRAWS], afloat = 0;
    int n = 0;
    bf_ensemble ensemble = spread_ensemble(scene);
    double *rows = (double *)(void *)((char *)b->spare + bfi_room(bf_ensemble_work_bytes(&ensemble)));
    bf_status status = bf_ensemble_range(&ensemble, 0, DRAWS, b->spare, rows);
    (void)status; // a draw without an answer is NaN, and left out
    for (int i = 0; i < DRAWS; i++) {
        const bf_spread_out *out = (const bf_spread_out *)(const void *)(rows + (size_t)i * spread_columns());
        wide_m[i] = out->wide_m;
        if (isnan(out->afloat_frac)) continue;
        afloat += out->afloat_frac;
        n++;
    }
    patch->wide_m = middle_of(wide_m, DRAWS);
    patch->sinks_frac = n ? 1 - afloat / n : 1;
}

static int is_same_number(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

static bfi_patch patch_of(bfi_bedded *b, const bf_put_in *put, int spot, int feed, const bf_scene *scene) {
    bfi_patch patch = {.spot = spot,
                       .feed = feed,
                       .how = scene->put.how,
                       .told_wide_m = b->ask->fold->live[put->live].body.wide_m,
                       .wide_m = BF_NAN,
                       .sinks_frac = 1};
    for (int i = 0; i < b->n_patches; i++) {
        const bfi_patch *had = &b->patch[i];
        if (had->spot == spot && had->feed == feed && had->how == patch.how &&
            is_same_number(had->told_wide_m, patch.told_wide_m))
            return *had;
    }
    if (b->n_patches == BFI_BED_PATCHES) return patch;
    spread_patch(b, scene, &patch);
    return b->patch[b->n_patches++] = patch;
}

bf_story_put bfi_bed_comes_to(bfi_bedded *b, const bf_put_in *put) {
    bf_scene scene;
    int spot = bf_story_index(b->names.spot, b->scene.n_spots, BF_SWIM_MOST_SPOTS, put->spot);
    int feed = bf_story_index(b->names.feed, b->scene.n_feeds, BF_SWIM_MOST_FEEDS, put->bait);
    put_scene(b, put, spot, &scene);
    bfi_patch patch = patch_of(b, put, spot, feed, &scene);
    return (bf_story_put){.pieces = pieces_of(put, &scene) * patch.sinks_frac,
                          .pieces_pm_frac = pieces_pm_frac(put),
                          .area_m2 = BF_PI / 4 * patch.wide_m * patch.wide_m};
}

static void take_put_ins(bfi_bedded *b) {
    for (int i = 0; i < b->n_put_ins; i++) {
        const bf_put_in *put = &b->ask->fold->put_in[b->session->put_from + i];
        b->put[i] = (bf_story_put){.pieces = BF_NAN, .area_m2 = BF_NAN};
        if (put->t_ms > b->at_ms) continue;
        b->put[i] = bfi_bed_comes_to(b, put);
        b->n_by_pot += isnan(put->count);
    }
}

void bfi_bed_scene(bfi_bedded *b) {
    bf_story_cast(b->ask->fold, b->i_session, b->at_ms, &b->scene, &b->names);
    if (isnan(b->scene.temp_c) && b->has_plan && !b->plan.lake.temp_c.is_unknown)
        b->scene.temp_c = b->plan.lake.temp_c.value;
    take_baits(b);
    take_spots(b);
    take_put_ins(b);
}
