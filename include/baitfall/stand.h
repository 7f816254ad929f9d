/* stand.h -- a rig at work: the record that rig, lay and aim answer for.
 *
 * A scene (the put-in and its water, scene.h) with the rig that is fished over it, how the pole is held and how well
 * the angler hits. Flat records. Axes: x out from the bank, y to the angler's right, z down from the surface; the
 * origin of a rig's own drawing is the point of the surface straight under the pole tip.
 *
 * Units, accepted ranges, start values and where they come from: the tables. Model: docs/models/rig.md, aim.md.
 * Tests: tests/tackle/stand_test.c
 */
#ifndef BAITFALL_STAND_H
#define BAITFALL_STAND_H

#include "baitfall/elastic.h"
#include "baitfall/float.h"
#include "baitfall/line.h"
#include "baitfall/scene.h"
#include "baitfall/shot.h"
#include "baitfall/wind.h"

#ifdef __cplusplus
extern "C" {
#endif

/* eye: at the water the float is dotted down by eye, with trimmers: whatever its capacity and the shot's true weight, dotted_m
 * shows. Trimmers put right no more than BF_TRIMS_FRAC of the float's lift. shot: it carries just the shot that are said. */
typedef enum bf_dotting { BF_DOTTED_BY_EYE, BF_AS_SHOTTED } bf_dotting;
#define BF_TRIMS_FRAC 0.25

typedef struct bf_rig {
    double tip_to_float_m;  /* line between pole tip and float */
    bf_quantity shot_error; /* bf_shot_mass_kg's error_z, one for all shot */
    bf_fishing_line line;   /* main line */
    bf_fishing_line hooklength;
    bf_hook hook;
    bf_float flt;         /* "float" in requests */
    int dotting;          /* bf_dotting */
    bf_quantity dotted_m; /* bristle left showing in calm water, as it is fished */
    int n_shots, n_back_shots;
    bf_shot shot[BF_RIG_SHOTS];
    bf_shot back_shot[BF_RIG_BACK_SHOTS];
    bf_elastic elastic;
} bf_rig;

/* How it is fished: "hold" in requests. */
typedef struct bf_hold {
    bf_quantity tip_height_m;    /* pole tip above the water */
    bf_quantity overdepth_m;     /* line from float to hook beyond the depth; below 0: off the bottom */
    bf_quantity gust_frac;       /* a gust's wind over the mean wind */
    bf_quantity friction_frac;   /* of bait and shot on the bottom */
    bf_quantity line_drag_error; /* real drag of line: one unit is 10 % */
    bf_quantity near_bed_frac;   /* current by the bottom, see bf_stand_current */
    double lower_m_s;            /* how fast the rig is let down */
    int lowering;                /* 0 upright ("lower"), 1 laid out flat ("lay") */
    int drag_mode;               /* 0 laws, 1 fixed, for checks: rig.h */
} bf_hold;

/* The pole off its place while feeding: "aim.feeding" in requests. Each is a slip of its own, as large as the same one
 * while fishing unless said: "don't know" here takes the quantity of bf_aim (bf_stand_settle). */
typedef struct bf_feeding {
    bf_quantity ship_m, bearing_deg, marker_moves_m;
} bf_feeding;

/* How well the angler hits: "aim" in requests. What a quantity is off by; values 0, the give or take is what matters:
 * "ship_pm_m" 3 cm reads: 8 times in 10 within 3 cm. */
typedef struct bf_aim {
    bf_quantity ship_m;         /* pole off its mark, along the pole */
    bf_quantity bearing_deg;    /* pole off the line to the far-bank marker */
    double marker_m;            /* distance of that marker from the angler; NaN: none */
    bf_quantity marker_moves_m; /* the marker's own move to the right */
    bf_quantity steady_m;       /* how still the tip is held while fishing */
    double pot_comp_m;          /* how far the angler leans forward to feed */
    bf_feeding feeding;
} bf_aim;

typedef struct bf_stand {
    bf_scene scene; /* first: a stand is a scene; scene.bait is what is fed */
    bf_bait hook_bait;
    bf_rig rig;
    bf_hold hold;
    bf_aim aim;
} bf_stand;

/* Two fields of hold that a plan's spot has as well. */
#define BF_TIP_HEIGHT(record)                                                                                \
    BF_Q(record, tip_height_m, BF_LENGTH, 0, 5, 0.3, 0.05, 0.05, 1,                                          \
         "pole tip above the water; start: give or take 5 cm (judgement)")
#define BF_OVERDEPTH(record)                                                                                 \
    BF_Q(record, overdepth_m, BF_LENGTH, -12, 2, 0.02, 0.02, -0.1, 0.15,                                     \
         "line from float to hook beyond the depth, below 0 when the bait is to hang; start: just lying, "   \
         "give or take 2 cm of plumbing and setting (judgement)")

extern const bf_table bf_rig_table, bf_hold_table, bf_aim_table, bf_feeding_table;

/* What a rig holds besides its own fields, as sections of a record in which it stands: BF_RIG_PARTS("rig.", bf_stand, rig.). */
/* clang-format off */
#define BF_RIG_PARTS(path, record, rig)                                                                      \
    BF_SECTION(path "line", bf_line_table, record, rig line),                                                \
    BF_SECTION(path "hooklength", bf_hooklength_table, record, rig hooklength),                              \
    BF_SECTION(path "hook", bf_hook_table, record, rig hook),                                                \
    BF_SECTION(path "float", bf_float_table, record, rig flt),                                               \
    BF_SECTION(path "elastic", bf_elastic_table, record, rig elastic),                                       \
    BF_ROWS(path "shots", bf_shot_table, record, rig shot, BF_RIG_SHOTS, rig n_shots),                       \
    BF_ROWS(path "back_shots", bf_back_shot_table, record, rig back_shot, BF_RIG_BACK_SHOTS, rig n_back_shots)
/* clang-format on */

/* The same over a bf_rig alone: bf_section.parts of a list of rigs. */
extern const bf_schema bf_rig_parts;

/* Schemas over bf_stand. Request paths: "water", "spot", "hook_bait", "rig", "rig.line", "rig.hooklength", "rig.hook",
 * "rig.float", "rig.elastic", "rig.shots", "rig.back_shots", "hold"; for lay and aim also "bait", "pot", "put", "sling", "counted", "counted.bait"; for aim "aim" and
 * "aim.feeding", and there "put" has no offset_out_m and offset_side_m: aim says where feed is released. A record of
 * bf_aim_schema is a bf_aiming (aim.h). */
extern const bf_schema bf_rig_schema, bf_lay_schema, bf_aim_schema;

void bf_stand_start(bf_stand *stand);

/* What follows from what was said: bf_scene_settle; a float's and a line's own NaNs; and a rig without shot is shotted by
 * bf_pattern_shot (pattern.h) to its float's capacity. */
void bf_stand_settle(bf_stand *stand);

/* The current over the spot: bf_current_of, and near the bottom hold.near_bed_frac times as strong.
 *
 * The basin flow runs out to nothing at the bottom in a straight line; u(s) gets (1 - near_bed_frac) u'(1) (s^2 - s^3) added,
 * which makes that line near_bed_frac times as steep and leaves the surface as it is. Judgement: no measurement over a pond's
 * bottom was found. Returns the status of bf_current_of. */
BF_CHECK bf_status bf_stand_current(const bf_stand *stand, bf_current *current);

#ifdef __cplusplus
}
#endif
#endif
