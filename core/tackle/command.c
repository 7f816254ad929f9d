#include "baitfall/command.h"

#include <string.h>

#include "baitfall/aim.h"
#include "baitfall/fall.h"
#include "baitfall/lay.h"
#include "baitfall/pot.h"
#include "baitfall/rig.h"
#include "baitfall/soak.h"
#include "baitfall/spread.h"
#include "baitfall/throw.h"

/* A draw of rig is some ten solutions of it, one of lay a whole way down. */
#define RIG_DRAWS_START 512
#define LAY_DRAWS_START 128

const bf_command bf_commands[] = {
    {"fall", &bf_fall_schema, &bf_fall_out_table, bf_fall_model, 0, BF_DRAWS_START, bf_fall_notes},
    {"pot", &bf_pot_schema, &bf_pot_out_table, bf_pot_model, 0, BF_DRAWS_START, bf_pot_notes},
    {"soak", &bf_soak_schema, &bf_soak_out_table, bf_soak_model, 0, BF_DRAWS_START, bf_soak_notes},
    {"throw", &bf_throw_schema, &bf_throw_out_table, bf_throw_model, 0, BF_SPREAD_DRAWS_START,
     bf_throw_notes},
    {"spread", &bf_spread_schema, &bf_spread_out_table, bf_spread_model, BF_SPREAD_RAW, BF_SPREAD_DRAWS_START,
     bf_spread_notes},
    {"rig", &bf_rig_schema, &bf_rig_out_table, bf_rig_model, 0, RIG_DRAWS_START, bf_rig_notes},
    {"lay", &bf_lay_schema, &bf_lay_out_table, bf_lay_model, 0, LAY_DRAWS_START, bf_lay_notes},
    {"aim", &bf_aim_schema, &bf_aim_out_table, bf_aim_model, BF_AIM_RAW, BF_AIM_DRAWS_START, bf_aim_notes},
};
const int bf_n_commands = sizeof bf_commands / sizeof bf_commands[0];

const bf_command *bf_command_find(const char *name, size_t n) {
    for (int i = 0; i < bf_n_commands; i++) {
        const char *known = bf_commands[i].name;
        if (strlen(known) == n && memcmp(known, name, n) == 0) return &bf_commands[i];
    }
    return NULL;
}
