/* stand.c -- tables of a rig at work, the schemas of rig, lay and aim, and what follows from what was said. */
#include "baitfall/stand.h"

#include "baitfall/aim.h"
#include "baitfall/pattern.h"

static const char *const dotting_words[] = {"eye", "shot", NULL};

static const bf_field rig_fields[] = {
    BF_R(bf_rig, tip_to_float_m, BF_LENGTH, 0.05, 10, 0.5,
         "line between pole tip and float; start: half a metre (common practice, no source)"),
    BF_Q(bf_rig, shot_error, BF_PURE, -3, 3, 0, 1, -1, 1,
         "where real shot lie among the trade's charts, 0 as the chart that was read, 1 at the heavy end; "
         "not read for weighed shot"),
    BF_W(bf_rig, dotting, dotting_words, 2, BF_DOTTED_BY_EYE,
         "eye: dotted down by eye at the water, with trimmers; shot: it carries just the shot that are said; "
         "start: "
         "eye"),
    BF_Q(bf_rig, dotted_m, BF_LENGTH, 0, 0.2, 0.003, 0.002, 0, 0.01,
         "bristle left showing when it is dotted down by eye; start: 3 mm, give or take 2 mm (judgement)"),
};

static const char *const lowering_words[] = {"lower", "lay", NULL};
static const char *const drag_words[] = {"laws", "fixed", NULL};

static const bf_field hold_fields[] = {
    BF_TIP_HEIGHT(bf_hold),
    BF_OVERDEPTH(bf_hold),
    BF_Q(
        bf_hold, gust_frac, BF_PURE, 0, 4, 1.5, 0.3, 1.2, 2,
        "a gust's wind over the mean wind; start: 1.5, give or take 0.3 (memory: 1.3 to 1.8 over open land)"),
    BF_Q(bf_hold, friction_frac, BF_PURE, 0, 2, 0.4, 0.2, 0.1, 0.8,
         "friction of bait, shot and line on the bottom over what presses them on it; start: judgement, no "
         "measurement was found"),
    BF_Q(bf_hold, line_drag_error, BF_PURE, -3, 3, 0, 1, -1, 1,
         "real drag of the line against the law, in the published laws' own scatter: 10 % a unit"),
    BF_Q(bf_hold, near_bed_frac, BF_PURE, 0, 3, 1, 0.5, 0.3, 2,
         "current close to the bottom over that of the basin model; start: give or take a half, since no "
         "measurement was found"),
    BF_R(bf_hold, lower_m_s, BF_SPEED, 0.01, 3, 0.3,
         "how fast the rig is let down; start: slowly, a metre in three seconds (judgement)"),
    BF_W(bf_hold, lowering, lowering_words, 2, 0,
         "lower: let down upright under the tip; lay: laid out flat, to sink in an arc; start: lower"),
    BF_W(bf_hold, drag_mode, drag_words, 2, 0,
         "laws: drag by Reynolds number, across the line and along it; fixed, for checks: one coefficient a "
         "span, sine-squared law, none along it"),
};

static const bf_field aim_fields[] = {
    BF_Q(bf_aim, ship_m, BF_LENGTH, -3, 3, 0, 0.03, -0.1, 0.1,
         "pole further out than its mark says; start: on the mark, give or take 3 cm (judgement)"),
    BF_Q(bf_aim, bearing_deg, BF_ANGLE, -30, 30, 0, 0.3, -1, 1,
         "pole to the right of the line to the far-bank marker; start: on it, give or take 0.3 degrees, 6 cm "
         "at 11 m (judgement)"),
    BF_R(bf_aim, marker_m, BF_LENGTH, 1, 1000, BF_NAN,
         "distance of the far-bank marker; not given: none, or none that moves"),
    BF_Q(bf_aim, marker_moves_m, BF_LENGTH, -20, 20, 0, 0, -1, 1,
         "how far the marker itself has moved to the right (a reed, a shadow); start: one that stands still"),
    BF_Q(bf_aim, steady_m, BF_LENGTH, -1, 1, 0, 0.02, -0.05, 0.05,
         "pole tip off its place while fishing; start: held within 2 cm (judgement)"),
    BF_R(bf_aim, pot_comp_m, BF_LENGTH, -1, 1, 0.055,
         "how far you lean forward to feed, since the pot sits behind the tip; start: 5 to 6 cm (common "
         "practice, no source)"),
};

static const bf_field feeding_fields[] = {
    BF_Q(bf_feeding, ship_m, BF_LENGTH, -3, 3, BF_NAN, 0.03, -0.1, 0.1,
         "pole further out than its mark says, to feed; not known: as to fish"),
    BF_Q(bf_feeding, bearing_deg, BF_ANGLE, -30, 30, BF_NAN, 0.3, -1, 1,
         "pole to the right of the line to the marker, to feed; not known: as to fish"),
    BF_Q(bf_feeding, marker_moves_m, BF_LENGTH, -20, 20, BF_NAN, 0, -1, 1,
         "how far the marker has moved to the right, to feed; not known: as to fish"),
};

const bf_table bf_rig_table = BF_TABLE("rig", bf_rig, rig_fields);
const bf_table bf_hold_table = BF_TABLE("hold", bf_hold, hold_fields);
const bf_table bf_aim_table = BF_TABLE("aim", bf_aim, aim_fields);
const bf_table bf_feeding_table = BF_TABLE("feeding", bf_feeding, feeding_fields);

/* Sections ----------------------------------------------------------------------------------------------- */

#define STAND(name, table, member) BF_SECTION(name, table, bf_stand, member)

/* clang-format off */
#define OF_THE_RIG                                                                                           \
    STAND("water", bf_lake_table, scene.lake), STAND("water", bf_spot_table, scene.spot),                    \
    STAND("hook_bait", bf_bait_table, hook_bait),                                                            \
    STAND("rig", bf_rig_table, rig), BF_RIG_PARTS("rig.", bf_stand, rig.),                                   \
    STAND("hold", bf_hold_table, hold)
#define OF_THE_FEED                                                                                          \
    STAND("bait", bf_bait_table, scene.bait), STAND("pot", bf_pot_table, scene.pot),                         \
    STAND("sling", bf_sling_table, scene.sling),                                                             \
    STAND("counted", bf_counted_table, scene.counted),                                                       \
    STAND("counted.bait", bf_bait_table, scene.counted.bait)
/* clang-format on */

static const bf_section parts_sections[] = {BF_RIG_PARTS("", bf_rig, )};
const bf_schema bf_rig_parts = BF_SCHEMA("rig", bf_rig, parts_sections);

static const bf_section rig_sections[] = {OF_THE_RIG};
static const bf_section lay_sections[] = {OF_THE_RIG, OF_THE_FEED, STAND("put", bf_put_table, scene.put)};
static const bf_section aim_sections[] = {
    OF_THE_RIG,
    OF_THE_FEED,
    STAND("put", bf_put_way_table, scene.put),
    STAND("put", bf_put_fall_table, scene.put),
    STAND("aim", bf_aim_table, aim),
    STAND("aim.feeding", bf_feeding_table, aim.feeding),
};

const bf_schema bf_rig_schema = BF_SCHEMA("rig", bf_stand, rig_sections);
const bf_schema bf_lay_schema = BF_SCHEMA("lay", bf_stand, lay_sections);
const bf_schema bf_aim_schema = BF_SCHEMA("aim", bf_aiming, aim_sections);

void bf_stand_start(bf_stand *stand) {
    *stand = (bf_stand){0};
    bf_schema_start(&bf_lay_schema, stand);
    bf_record_start(&bf_aim_table, &stand->aim);
    bf_record_start(&bf_feeding_table, &stand->aim.feeding);
    bf_scene_start(&stand->scene);
}

/* What is not said of the slips while feeding is as while fishing. */
static void settle_feeding(bf_aim *aim) {
    bf_feeding *feeding = &aim->feeding;
    if (feeding->ship_m.is_unknown) feeding->ship_m = aim->ship_m;
    if (feeding->bearing_deg.is_unknown) feeding->bearing_deg = aim->bearing_deg;
    if (feeding->marker_moves_m.is_unknown) feeding->marker_moves_m = aim->marker_moves_m;
}

void bf_stand_settle(bf_stand *stand) {
    settle_feeding(&stand->aim);
    bf_scene_settle(&stand->scene);
    stand->rig.flt = bf_float_settled(&stand->rig.flt);
    double wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    if (stand->rig.n_shots == 0 && wet_m > 0)
        bf_pattern_shot(&stand->rig, BF_PATTERN_BULK, BF_LEAD, wet_m,
                        bf_lake_density_kg_m3(&stand->scene.lake));
}

static void steepen(double coef[4], double near_bed_frac) {
    double at_bed = coef[1] + 2 * coef[2] + 3 * coef[3], more = (1 - near_bed_frac) * at_bed;
    coef[2] += more;
    coef[3] -= more;
}

bf_status bf_stand_current(const bf_stand *stand, bf_current *current) {
    bf_status status = bf_current_of(&stand->scene.lake, stand->scene.spot.depth_m.value, current);
    if (status) return status;
    steepen(current->coef_x_m_s, stand->hold.near_bed_frac.value);
    steepen(current->coef_y_m_s, stand->hold.near_bed_frac.value);
    return BF_OK;
}
