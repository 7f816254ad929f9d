/* scene.c -- tables of a put-in's sections and the schemas of the feed commands. */
#include "baitfall/scene.h"

static const bf_field spot_fields[] = {
    BF_Q(bf_spot, distance_m, BF_LENGTH, 0, 60, 11, 0.1, 2, 16,
         "from the butt mark straight out; start: a long pole line"),
    BF_Q(bf_spot, side_m, BF_LENGTH, -60, 60, 0, 0.1, -3, 3, "to the angler's right; start: straight out"),
    {"depth_m", BF_QUANTITY, offsetof(bf_spot, depth_m), BF_LENGTH, 0.05, 12, BF_NAN, 0.05, 0.5, 3, NULL,
     "depth as plumbed; it must be given", 1},
    BF_Q(bf_spot, slope_deg, BF_ANGLE, -45, 45, 0, 3, -15, 15,
         "slope of the bottom, above 0 deeper further out; start: level, give or take 3 degrees (judgement)"),
    BF_W(bf_spot, bottom, bf_bottom_words, BF_N_BOTTOMS, BF_NAN, "what the bottom is; not given: not told"),
};

/* A medium pole pot, from memory; its volume is that of the 400 soaked micros of common practice, give or take a third. */
#define MEDIUM_M3 8e-6
#define MEDIUM_PM_M3 2.5e-6
#define MEDIUM_MOUTH_M 0.025
#define MEDIUM_MOUTH_PM_M 0.003
#define FILL_PM 0.05
#define BEHIND_M 0.055
#define BEHIND_PM_M 0.01
#define SETTLED_PM 0.04

static const bf_field pot_fields[] = {
    BF_Q(bf_pot, volume_m3, BF_VOLUME, 2e-7, 2e-3, MEDIUM_M3, MEDIUM_PM_M3, 3e-6, 3e-5,
         "struck-level volume; start: a medium pole pot of 8 ml, from memory; not read when the pot was "
         "counted"),
    BF_Q(bf_pot, mouth_m, BF_LENGTH, 0.008, 0.2, MEDIUM_MOUTH_M, MEDIUM_MOUTH_PM_M, 0.018, 0.04,
         "inner diameter, the same all the way down; start: 25 mm, from memory"),
    BF_Q(bf_pot, fill_frac, BF_PURE, 0, 3, 1, FILL_PM, 0.5, 1.2,
         "part of the struck volume that is filled, above 1 when heaped; start: struck level"),
    BF_Q(bf_pot, behind_tip_m, BF_LENGTH, 0, 1, BEHIND_M, BEHIND_PM_M, 0.02, 0.15,
         "how far the pot sits behind the pole tip; start: 5 to 6 cm (common practice, no source)"),
    BF_Q(bf_pot, wall_law, BF_PURE, 0, 1, BF_NAN, 0, 0, 1,
         "packing near the wall: 0 Dixon 1988, 1 Benyahia and O'Neill 2005; start: anything between"),
    BF_Q(bf_pot, settled_frac, BF_PURE, 0.8, 1.2, 1, SETTLED_PM, 0.9, 1.1,
         "pieces held against the packing law; start: 4 % fewer poured gently (one simulation) to 4 % more "
         "tapped"),
};

/* Half and twice the medium pot's volume, of the same shape: every length goes with the cube root. */
#define CUBE_ROOT_2 1.2599210498948732
/* clang-format off */
#define POT_OF(times, length_times)                                                                             \
    {.volume_m3 = {MEDIUM_M3 * (times), MEDIUM_PM_M3 * (times), 0},                                             \
     .mouth_m = {MEDIUM_MOUTH_M * (length_times), MEDIUM_MOUTH_PM_M * (length_times), 0},                       \
     .fill_frac = {1, FILL_PM, 0}, .behind_tip_m = {BEHIND_M, BEHIND_PM_M, 0},                                  \
     .wall_law = {0.5, 0, 1}, .settled_frac = {1, SETTLED_PM, 0}}
#define POT_ORIGIN "volume and mouth from memory, give or take a third; one count of what fills it narrows them"
/* clang-format on */

const bf_pot_entry bf_pots[] = {
    {"small", "a small pole pot, about 4 ml", POT_OF(0.5, 1 / CUBE_ROOT_2), POT_ORIGIN},
    {"medium", "a medium pole pot, about 8 ml", POT_OF(1, 1), POT_ORIGIN},
    {"large", "a large pole pot, about 16 ml", POT_OF(2, CUBE_ROOT_2), POT_ORIGIN},
};
const int bf_n_pots = sizeof bf_pots / sizeof bf_pots[0];

static const bf_field put_fields[] = {
    BF_W(bf_put, how, bf_how_words, BF_N_HOWS, BF_CLUMP,
         "clump, sprinkle, throw or hand; start: tipped at once"),
    BF_R(bf_put, count, BF_PURE, 1, 100000, BF_NAN, "pieces; not given: as many as the pot holds"),
    BF_Q(bf_put, over_s, BF_TIME, 0, 300, 4, 1, 2, 10,
         "sprinkle: seconds from the first piece to the last; start: judgement"),
    BF_Q(bf_put, wide_m, BF_LENGTH, 0, 10, 0.12, 0.04, 0.05, 0.5,
         "sprinkle, hand: diameter on the surface that holds nine pieces in ten; start: judgement"),
    BF_Q(bf_put, height_m, BF_LENGTH, 0, 3, 0.1, 0.05, 0.02, 0.5,
         "of the pot's mouth or the hand above the water; start: judgement"),
    BF_Q(bf_put, offset_out_m, BF_LENGTH, -3, 3, 0, 0.04, -0.2, 0.2,
         "released this much further out than meant; start: on the mark, give or take 4 cm (judgement)"),
    BF_Q(bf_put, offset_side_m, BF_LENGTH, -3, 3, 0, 0.04, -0.2, 0.2,
         "released this much to the right of what was meant; start: on the mark, give or take 4 cm "
         "(judgement)"),
    BF_Q(bf_put, widening_frac, BF_PURE, 0.15, 0.35, 0.25, 0.06, 0.15, 0.35,
         "clump: how fast the radius of a falling cloud of pieces grows with depth; start: as for thermals"),
    BF_Q(bf_put, wander_frac, BF_PURE, 0, 3, 1, 0.3, 0.5, 1.5,
         "sideways wander of a sinking piece against the fit to sinking tests; start: give or take 30 %"),
};

/* Fields of bf_put before its two offsets. */
#define N_PUT_WAY 5

static const bf_field sling_fields[] = {
    BF_Q(bf_sling, speed_m_s, BF_SPEED, 0.5, 60, 12, 1.5, 6, 20,
         "speed of a piece as it leaves the catapult; start: judgement, measure it by a throw"),
    BF_Q(bf_sling, angle_deg, BF_ANGLE, -30, 85, 40, 6, 20, 60,
         "above the horizontal as it leaves; start: judgement"),
    BF_Q(bf_sling, height_m, BF_LENGTH, 0, 5, 1.3, 0.15, 0.8, 1.8,
         "above the water as it leaves; start: a seated angler, judgement"),
    BF_R(bf_sling, speed_scatter_frac, BF_PURE, 0, 0.5, 0.06,
         "piece to piece within a pinch, one standard deviation; start: judgement"),
    BF_R(bf_sling, angle_scatter_deg, BF_ANGLE, 0, 30, 3,
         "piece to piece within a pinch, one standard deviation; start: judgement"),
    BF_R(bf_sling, bearing_scatter_deg, BF_ANGLE, 0, 30, 2,
         "piece to piece to either side, one standard deviation; start: judgement"),
};

static const bf_field soaking_fields[] = {
    BF_Q(bf_soaking, for_s, BF_TIME, 0, 172800, 330, 20, 60, 1800,
         "time under water; start: 5 to 6 minutes (common practice, no source)"),
    BF_Q(bf_soaking, temp_c, BF_TEMPERATURE, 0, 60, 15, 2, 5, 25, "of the soaking water; start: 15 C"),
    BF_Q(bf_soaking, stand_s, BF_TIME, 0, 172800, 0, 60, 0, 3600,
         "time drained and covered before use; start: used at once"),
    BF_Q(bf_soaking, warm_ratio, BF_PURE, 1, 3, 1.6, 0.17, 1.3, 2,
         "how much faster water goes in at 20 C than at 10 C; start: 1.43 to 1.77, grains (published)"),
    BF_Q(bf_soaking, soft_at_frac, BF_PURE, 0.05, 0.95, 0.5, 0.2, 0.3, 0.7,
         "part of the final uptake at which a place in the piece feels soft; start: a half (judgement)"),
};

static const bf_field counted_fields[] = {
    BF_Q(bf_counted, count, BF_PURE, 0, 100000, 0, 0, 0, 1000,
         "pieces that once filled the pot level; start: 0, never counted"),
};

const bf_table bf_spot_table = BF_TABLE("spot", bf_spot, spot_fields);
const bf_table bf_pot_table = BF_TABLE("pot", bf_pot, pot_fields);
const bf_table bf_put_table = BF_TABLE("put", bf_put, put_fields);
const bf_table bf_put_way_table = {"put", sizeof(bf_put), put_fields, N_PUT_WAY};
const bf_table bf_put_fall_table = {"put", sizeof(bf_put), put_fields + N_PUT_WAY + 2, 2};
const bf_table bf_sling_table = BF_TABLE("sling", bf_sling, sling_fields);
const bf_table bf_soaking_table = BF_TABLE("soak", bf_soaking, soaking_fields);
const bf_table bf_counted_table = BF_TABLE("counted", bf_counted, counted_fields);

/* Sections ----------------------------------------------------------------------------------------------- */

#define BAIT BF_SECTION("bait", bf_bait_table, bf_scene, bait)
#define LAKE BF_SECTION("water", bf_lake_table, bf_scene, lake)
#define SPOT BF_SECTION("water", bf_spot_table, bf_scene, spot)
#define POT BF_SECTION("pot", bf_pot_table, bf_scene, pot)
#define PUT BF_SECTION("put", bf_put_table, bf_scene, put)
#define SLING BF_SECTION("sling", bf_sling_table, bf_scene, sling)
#define SOAKING BF_SECTION("soak", bf_soaking_table, bf_scene, soaking)
#define COUNTED BF_SECTION("counted", bf_counted_table, bf_scene, counted)
#define COUNTED_BAIT BF_SECTION("counted.bait", bf_bait_table, bf_scene, counted.bait)

static const bf_section fall_sections[] = {BAIT, LAKE, SPOT};
static const bf_section pot_sections[] = {BAIT, POT, COUNTED, COUNTED_BAIT};
static const bf_section soak_sections[] = {BAIT, SOAKING};
static const bf_section throw_sections[] = {BAIT, LAKE, SLING};
static const bf_section spread_sections[] = {BAIT, LAKE, SPOT, POT, PUT, SLING, COUNTED, COUNTED_BAIT};

const bf_schema bf_fall_schema = BF_SCHEMA("fall", bf_scene, fall_sections);
const bf_schema bf_pot_schema = BF_SCHEMA("pot", bf_scene, pot_sections);
const bf_schema bf_soak_schema = BF_SCHEMA("soak", bf_scene, soak_sections);
const bf_schema bf_throw_schema = BF_SCHEMA("throw", bf_scene, throw_sections);
const bf_schema bf_spread_schema = BF_SCHEMA("spread", bf_scene, spread_sections);

static const bf_section all_sections[] = {LAKE, SPOT, POT, PUT, SLING, SOAKING, COUNTED};
static const bf_schema all_schema = BF_SCHEMA("scene", bf_scene, all_sections);

int bf_handful(const bf_bait *bait) {
    return bait->form == BF_BALL ? 1 : BF_PINCH;
}

double bf_put_pieces(const bf_scene *scene, double pot_holds) {
    int is_by_pot = scene->put.how == BF_CLUMP || scene->put.how == BF_SPRINKLE;
    int is_said = scene->put.count == scene->put.count; /* else NaN */
    return is_said ? scene->put.count : is_by_pot ? pot_holds : bf_handful(&scene->bait);
}

static int is_same_quantity(const bf_quantity *a, const bf_quantity *b) {
    return a->value == b->value && a->pm == b->pm && a->is_unknown == b->is_unknown;
}

static int is_same_bait(const bf_bait *a, const bf_bait *b) {
    for (int i = 0; i < bf_bait_table.n_fields; i++) {
        const bf_field *field = &bf_bait_table.field[i];
        const void *in_a = (const char *)a + field->offset, *in_b = (const char *)b + field->offset;
        int is_same = field->kind == BF_QUANTITY ? is_same_quantity(in_a, in_b)
                      : field->kind == BF_REAL   ? *(const double *)in_a == *(const double *)in_b
                                                 : *(const int *)in_a == *(const int *)in_b;
        if (!is_same) return 0;
    }
    return 1;
}

void bf_scene_settle(bf_scene *scene) {
    scene->counted.is_bait_asked = is_same_bait(&scene->bait, &scene->counted.bait);
}

void bf_scene_start(bf_scene *scene) {
    bf_schema_start(&all_schema, scene);
    scene->bait = bf_catalogue[0].bait;
    scene->counted.bait = bf_catalogue[0].bait;
    bf_scene_settle(scene);
}
