/* rigging.c -- see rigging.h. */
#include "core/tackle/rigging.h"

#include <math.h>

#include "baitfall/elementary.h"

/* Places are found to this, forces to the same part of what they move: hundredths of a millimetre would be ample. */
#define TOLERANCE_M 1e-6

/* A rig with less line than this below its float is no rig. */
#define LEAST_BELOW_M 0.05

/* Making ready -------------------------------------------------------------------------------------------- */

static bfi_cable cable_of(const bf_fishing_line *line, const bfi_rigging *rigging) {
    return (bfi_cable){.diameter_m = line->diameter_m,
                       .stiffness_n = bf_line_stiffness_n(line),
                       .air_n_m = bf_line_weight_air_n_m(line),
                       .water_n_m = bf_line_weight_water_n_m(line, rigging->below.water.kg_m3)};
}

/* The fixed mode's coefficients: those at the surface's current and at the wind by the tip. */
static double fixed_at(const bfi_stream *stream, bfi_medium medium, double z_m, double diameter_m) {
    const bfi_fluid *fluid = medium == BFI_IN_AIR ? &stream->air : &stream->water;
    double flow[2];
    bfi_flow_at(stream, medium, z_m, flow);
    double speed = sqrt(flow[0] * flow[0] + flow[1] * flow[1]);
    return speed > 0 ? bfi_cylinder_drag_fixed(speed * diameter_m * fluid->kg_m3 / fluid->pa_s) : 0;
}

static void fix_drag(const bfi_rigging *rigging, bfi_cable *cable) {
    cable->fixed_air = fixed_at(&rigging->above, BFI_IN_AIR, -rigging->tip_m, cable->diameter_m);
    cable->fixed_water = fixed_at(&rigging->above, BFI_IN_WATER, 0, cable->diameter_m);
}

static bfi_bead bead_of(const bf_shot *shot, double error_z, const bfi_fluid *water) {
    return (bfi_bead){.air_n = bf_shot_mass_kg(shot, error_z) * BF_GRAVITY_M_S2,
                      .water_n = bf_shot_weight_n(shot, error_z, water->kg_m3),
                      .diameter_m = bf_shot_diameter_m(shot, error_z),
                      .drag = bf_shot_piece(shot, error_z, water->kg_m3, water->pa_s).drag};
}

/* Nothing sits nearer to the end it is counted from. */
#define LEAST_AT_M 1e-6

/* Puts a load in its place by height; nothing sits beyond the end of its span. */
static void insert(bfi_load *loads, int n, bfi_load load, double most_m) {
    if (load.at_m > most_m) load.at_m = most_m;
    if (load.at_m < LEAST_AT_M) load.at_m = LEAST_AT_M;
    for (; n > 0 && loads[n - 1].at_m > load.at_m; n--) loads[n] = loads[n - 1];
    loads[n] = load;
}

/* A bulk is one load at its middle; of shot that stand apart each is one. Returns how many loads. */
static int spread_shots(const bf_shot *shots, int n_rows, const bfi_bead *beads, double most_m,
                        bfi_load *loads) {
    int n = 0;
    for (int row = 0; row < n_rows; row++) {
        const bf_shot *shot = &shots[row];
        double middle_m = shot->at_m + 0.5 * (shot->count - 1) * beads[row].diameter_m;
        if (shot->apart_m > 0)
            for (int i = 0; i < shot->count; i++)
                insert(loads, n++, (bfi_load){shot->at_m + i * shot->apart_m, row, 1}, most_m);
        else
            insert(loads, n++, (bfi_load){middle_m, row, shot->count}, most_m);
    }
    return n;
}

static bfi_stream stream_of(const bf_stand *stand, double wind_frac) {
    const bf_lake *lake = &stand->scene.lake;
    double side = lake->wind_side_deg.value * BF_RAD_PER_DEG, temp = lake->temp_c.value;
    double wind_10 = bf_wind_10_m_s(lake->wind_m_s.value, lake->wind_height_m);
    bfi_stream stream = {.water = {bf_lake_density_kg_m3(lake), bf_water_viscosity_pa_s(temp)},
                         .air = {bf_air_density_kg_m3(temp), bf_air_viscosity_pa_s(temp)},
                         .is_fixed = stand->hold.drag_mode,
                         .drag_frac = 1.0 + 0.1 * stand->hold.line_drag_error.value,
                         .wind = bf_wind_profile_of(wind_10)};
    stream.wind_x = wind_frac * bf_cos(side);
    stream.wind_y = wind_frac * bf_sin(side);
    return stream;
}

static int is_off(unsigned without, bf_rig_part part) {
    return without >> part & 1;
}

/* Set so much off the bottom a rig is meant to hang; less is plumbing that is out. */
#define HUNG_M 0.03

/* Shot, hook and line in calm water, as they are fished: a bait that lies on the bottom carries itself. */
static double hangs_n(const bfi_rigging *rigging, const bf_hook *hook) {
    int is_off_bottom = rigging->below_m < rigging->depth_m - HUNG_M;
    double n = is_off_bottom ? rigging->end_n : bf_hook_weight_n(hook, rigging->below.water.kg_m3);
    for (int i = 0; i < rigging->n_loads; i++)
        n += rigging->load[i].count * rigging->bead[rigging->load[i].row].water_n;
    return n + rigging->knot_m * rigging->hooklength.water_n_m +
           (rigging->below_m - rigging->knot_m) * rigging->line.water_n_m;
}

/* What trimmers add until what is to show shows, within what trimmers can put right. */
static double trim_of(const bfi_rigging *rigging, const bf_rig *rig) {
    const bf_float *flt = &rigging->flt;
    double water = rigging->below.water.kg_m3, hangs = hangs_n(rigging, &rig->hook);
    double shows = bf_float_shows_m(flt, hangs, water, rigging->tension_n_m);
    double trim = (shows - rig->dotted_m.value) * bf_float_bristle_n_m(flt, water);
    double most = BF_TRIMS_FRAC * bf_float_lift_n(flt, water);
    if (rig->dotting == BF_AS_SHOTTED) return 0;
    return trim < -most ? -most : trim > most ? most : trim;
}

bf_status bfi_rigging_of(const bf_stand *stand, double wind_frac, unsigned without, bfi_rigging *rigging) {
    const bf_rig *rig = &stand->rig;
    double error_z = rig->shot_error.value, depth = stand->scene.spot.depth_m.value;
    *rigging = (bfi_rigging){.tip_m = stand->hold.tip_height_m.value,
                             .depth_m = depth,
                             .slope = bf_tan(stand->scene.spot.slope_deg.value * BF_RAD_PER_DEG),
                             .friction_frac = stand->hold.friction_frac.value,
                             .below_m = depth + stand->hold.overdepth_m.value,
                             .above_m = rig->tip_to_float_m,
                             .flt = rig->flt,
                             .feels_float = !is_off(without, BF_PART_FLOAT),
                             .feels_shot = !is_off(without, BF_PART_SHOT),
                             .feels_bait = !is_off(without, BF_PART_BAIT)};

    bfi_stream stream = stream_of(stand, wind_frac);
    bf_status status = bf_stand_current(stand, &stream.current);
    if (status) return status;
    if (!(rigging->above_m > rigging->tip_m) || !(rigging->below_m >= LEAST_BELOW_M)) return BF_E_MODEL_RANGE;
    rigging->above = rigging->below = stream;
    rigging->above.length_m = rigging->above_m;
    rigging->below.length_m = rigging->below_m;
    if (is_off(without, BF_PART_AIR_LINE)) rigging->above.drag_frac = 0;
    if (is_off(without, BF_PART_WATER_LINE)) rigging->below.drag_frac = 0;

    rigging->line = cable_of(&rig->line, rigging);
    rigging->hooklength = cable_of(&rig->hooklength, rigging);
    fix_drag(rigging, &rigging->line);
    fix_drag(rigging, &rigging->hooklength);
    double hooklength_m = rig->hooklength.length_m;
    rigging->knot_m = hooklength_m < rigging->below_m ? hooklength_m : rigging->below_m;

    for (int i = 0; i < rig->n_shots; i++) rigging->bead[i] = bead_of(&rig->shot[i], error_z, &stream.water);
    for (int i = 0; i < rig->n_back_shots; i++)
        rigging->back_bead[i] = bead_of(&rig->back_shot[i], error_z, &stream.water);
    rigging->n_loads = spread_shots(rig->shot, rig->n_shots, rigging->bead, rigging->below_m, rigging->load);
    rigging->n_back_loads = spread_shots(rig->back_shot, rig->n_back_shots, rigging->back_bead,
                                         rigging->above_m, rigging->back_load);

    const bf_bait *bait = &stand->hook_bait;
    double volume = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    rigging->bait = bf_piece_of(bait, &stand->scene.lake);
    rigging->end_n = bf_hook_weight_n(&rig->hook, stream.water.kg_m3) +
                     volume * (bait->density_kg_m3.value - stream.water.kg_m3) * BF_GRAVITY_M_S2;
    rigging->float_n = rig->flt.mass_kg * BF_GRAVITY_M_S2;
    rigging->tension_n_m = bf_water_tension_n_m(stand->scene.lake.temp_c.value);
    rigging->trim_n = trim_of(rigging, rig);
    return BF_OK;
}

/* Loads --------------------------------------------------------------------------------------------------- */

/* Drag of a round thing in a flow, added to a force. */
static void add_round(const bfi_fluid *fluid, const bf_drag *law, double diameter_m, const double flow[2],
                      double share, double force_n[3]) {
    double speed = sqrt(flow[0] * flow[0] + flow[1] * flow[1]);
    if (!(speed * share > 0)) return;
    double cd = bf_drag_coefficient(law, speed * diameter_m * fluid->kg_m3 / fluid->pa_s);
    double per_speed = share * cd * 0.5 * fluid->kg_m3 * BF_PI / 4 * diameter_m * diameter_m * speed;
    force_n[0] += per_speed * flow[0];
    force_n[1] += per_speed * flow[1];
}

void bfi_end_load(const bfi_rigging *rigging, double z_m, double force_n[3]) {
    double flow[2];
    bfi_flow_at(&rigging->below, BFI_IN_WATER, z_m, flow);
    force_n[0] = force_n[1] = 0;
    force_n[2] = rigging->end_n;
    if (!rigging->feels_bait) return;
    add_round(&rigging->below.water, &rigging->bait.drag, rigging->bait.equivalent_m, flow, 1, force_n);
}

/* Takes shot on: from here up the line carries their weight and what they feel of wind and current as well. */
static void take_on(const bfi_stream *stream, bfi_medium medium, const bfi_bead *bead, int count, int feels,
                    bfi_strand *strand) {
    double z = strand->at_m[2], flow[2], force[3] = {0};
    double wet = medium == BFI_IN_WATER ? 1 : bfi_wet_frac(z + 0.5 * bead->diameter_m, bead->diameter_m);
    if (feels && wet < 1) {
        bfi_flow_at(stream, BFI_IN_AIR, z < 0 ? z : 0, flow);
        add_round(&stream->air, &bead->drag, bead->diameter_m, flow, 1 - wet, force);
    }
    if (feels && wet > 0) {
        bfi_flow_at(stream, BFI_IN_WATER, z, flow);
        add_round(&stream->water, &bead->drag, bead->diameter_m, flow, wet, force);
    }
    force[2] = wet * bead->water_n + (1 - wet) * bead->air_n;
    for (int i = 0; i < 3; i++) strand->pull_n[i] -= count * force[i];
}

static double lower_of(double a, double b) {
    return a < b ? a : b;
}

/* Up the water span to to_m, with no shot between: the hooklength as far as the knot. */
static bf_status climb_line(const bfi_rigging *rigging, double from_m, double to_m, bfi_strand *strand) {
    bf_status status = BF_OK;
    double fine_m = lower_of(to_m, rigging->knot_m);
    if (fine_m > from_m) {
        status = bfi_march(&rigging->below, BFI_IN_WATER, &rigging->hooklength, fine_m - from_m, TOLERANCE_M,
                           strand);
        from_m = fine_m;
    }
    if (status || !(to_m > from_m)) return status;
    return bfi_march(&rigging->below, BFI_IN_WATER, &rigging->line, to_m - from_m, TOLERANCE_M, strand);
}

bf_status bfi_climb_water(const bfi_rigging *rigging, double from_m, double to_m, bfi_strand *strand) {
    int i = 0;
    while (i < rigging->n_loads && rigging->load[i].at_m <= from_m) i++;
    for (; i < rigging->n_loads && rigging->load[i].at_m <= to_m; i++) {
        const bfi_load *load = &rigging->load[i];
        bf_status status = climb_line(rigging, from_m, load->at_m, strand);
        if (status) return status;
        take_on(&rigging->below, BFI_IN_WATER, &rigging->bead[load->row], load->count, rigging->feels_shot,
                strand);
        from_m = load->at_m;
    }
    return climb_line(rigging, from_m, to_m, strand);
}

/* Up the air span to to_m, with no shot between. */
static bf_status climb_air_line(const bfi_rigging *rigging, bfi_slack slack, double from_m, double to_m,
                                bfi_strand *strand) {
    bf_status status = BF_OK;
    double wet_m = lower_of(to_m, slack.afloat_m > 0 ? slack.afloat_m : slack.sunk_m);
    if (wet_m > from_m && slack.afloat_m > 0)
        bfi_float_along(&rigging->above, &rigging->line, wet_m - from_m, strand);
    else if (wet_m > from_m)
        status =
            bfi_march(&rigging->above, BFI_IN_WATER, &rigging->line, wet_m - from_m, TOLERANCE_M, strand);
    if (wet_m > from_m) from_m = wet_m;
    if (status || !(to_m > from_m)) return status;
    return bfi_march(&rigging->above, BFI_IN_AIR, &rigging->line, to_m - from_m, TOLERANCE_M, strand);
}

bf_status bfi_climb_air(const bfi_rigging *rigging, bfi_slack slack, double from_m, double to_m,
                        bfi_strand *strand) {
    int i = 0, feels = rigging->above.drag_frac > 0;
    while (i < rigging->n_back_loads && rigging->back_load[i].at_m <= from_m) i++;
    for (; i < rigging->n_back_loads && rigging->back_load[i].at_m <= to_m; i++) {
        const bfi_load *load = &rigging->back_load[i];
        bf_status status = climb_air_line(rigging, slack, from_m, load->at_m, strand);
        if (status) return status;
        take_on(&rigging->above, BFI_IN_AIR, &rigging->back_bead[load->row], load->count, feels, strand);
        from_m = load->at_m;
    }
    return climb_air_line(rigging, slack, from_m, to_m, strand);
}

/* The float ----------------------------------------------------------------------------------------------- */

/* Gauss and Legendre's ten points and weights on 0 .. 1; for an ellipsoid the same on the angle in which its outline is a sine. */
#define GAUSS 10
typedef struct slices {
    double at[GAUSS], weight[GAUSS], wide[GAUSS]; /* along it; part of its length; part of its width */
} slices;

static const slices cylinder = {
    {0.013046735741414128, 0.067468316655507732, 0.16029521585048778, 0.28330230293537639,
     0.42556283050918442, 0.57443716949081558, 0.71669769706462361, 0.83970478414951222, 0.93253168334449232,
     0.98695326425858587},
    {0.033335672154344034, 0.074725674575290182, 0.10954318125799101, 0.13463335965499826,
     0.14776211235737649, 0.14776211235737649, 0.13463335965499826, 0.10954318125799101, 0.074725674575290182,
     0.033335672154344034},
    {1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
};
static const slices spindle = {
    {0.00041993559149511306, 0.01118955876337957, 0.062070249114980103, 0.18530192598368372,
     0.38413716465077452, 0.61586283534922548, 0.81469807401631622, 0.93792975088501995, 0.98881044123662043,
     0.99958006440850489},
    {0.0021456516964593517, 0.024693503938838922, 0.083035178187506983, 0.16433908610138792,
     0.22578658007580699, 0.22578658007580701, 0.16433908610138792, 0.083035178187506983,
     0.024693503938838932, 0.0021456516964593682},
    {0.040976053767737393, 0.21037445223277948, 0.48256619562412117, 0.77708460854766948, 0.97278117453996471,
     0.97278117453996482, 0.77708460854766948, 0.48256619562412117, 0.21037445223277959,
     0.040976053767737705},
};

/* Drag of an upright cylinder or spindle that reaches from from_m long_m down, each slice as a cylinder in its own flow. */
static void add_upright(const bfi_stream *stream, bfi_medium medium, const slices *form, double from_m,
                        double long_m, double wide_m, double push_n[2]) {
    const bfi_fluid *fluid = medium == BFI_IN_AIR ? &stream->air : &stream->water;
    if (!(long_m > 0)) return;
    for (int k = 0; k < GAUSS; k++) {
        double flow[2], d = form->wide[k] * wide_m;
        bfi_flow_at(stream, medium, from_m + form->at[k] * long_m, flow);
        double speed = sqrt(flow[0] * flow[0] + flow[1] * flow[1]);
        if (!(speed > 0)) continue;
        double cd = bfi_cylinder_drag(speed * d * fluid->kg_m3 / fluid->pa_s);
        double per_speed = 0.5 * fluid->kg_m3 * cd * d * speed * form->weight[k] * long_m;
        push_n[0] += per_speed * flow[0];
        push_n[1] += per_speed * flow[1];
    }
}

void bfi_float_push(const bfi_rigging *rigging, double down_n, double push_n[2], double *shows_m) {
    const bf_float *flt = &rigging->flt;
    const bfi_stream *stream = &rigging->above;
    double down = down_n + rigging->trim_n;
    double shows = bf_float_shows_m(flt, down, rigging->below.water.kg_m3, rigging->tension_n_m);
    double dry = shows < 0 ? 0 : lower_of(shows, flt->bristle_long_m), wet = flt->bristle_long_m - dry;
    *shows_m = shows;
    push_n[0] = push_n[1] = 0;
    if (!rigging->feels_float) return;
    add_upright(stream, BFI_IN_AIR, &cylinder, -dry, dry, flt->bristle_m, push_n);
    add_upright(stream, BFI_IN_WATER, &cylinder, 0, wet, flt->bristle_m, push_n);
    add_upright(stream, BFI_IN_WATER, &spindle, wet, flt->body_long_m, flt->body_m, push_n);
    add_upright(stream, BFI_IN_WATER, &cylinder, wet + flt->body_long_m, flt->stem_long_m,
                bf_float_usual_build.stem_m, push_n);
}
