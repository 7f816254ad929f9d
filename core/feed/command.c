#include "baitfall/command.h"
#include "baitfall/fall.h"
#include "baitfall/pot.h"
#include "baitfall/soak.h"
#include "baitfall/spread.h"
#include "baitfall/throw.h"
#include <string.h>
const bf_command bf_commands[] = {
 {"fall",&bf_fall_schema,&bf_fall_out_table,bf_fall_model,0,4096,bf_fall_notes},
 {"pot",&bf_pot_schema,&bf_pot_out_table,bf_pot_model,0,4096,bf_pot_notes},
 {"soak",&bf_soak_schema,&bf_soak_out_table,bf_soak_model,0,4096,bf_soak_notes},
 {"throw",&bf_throw_schema,&bf_throw_out_table,bf_throw_model,0,4096,bf_throw_notes},
 {"spread",&bf_spread_schema,&bf_spread_out_table,bf_spread_model,BF_SPREAD_RAW,1024,bf_spread_notes},
};
const int bf_n_commands=5;
const bf_command *bf_command_find(const char *n,size_t l){for(int i=0;i<bf_n_commands;i++)if(strlen(bf_commands[i].name)==l&&!memcmp(n,bf_commands[i].name,l))return &bf_commands[i];return 0;}
