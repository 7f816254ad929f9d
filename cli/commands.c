/* commands.c -- every option and every command, once. */
#include <string.h>

#include "cli/cli.h"

/* clang-format off */
const cli_option cli_options[CLI_N_OPTIONS] = {
    [OPT_HELP]       = {"help", NULL, NULL, CLI_ANY, 0, "say how the command is used"},
    [OPT_VERSION]    = {"version", NULL, NULL, CLI_ANY, 0, "print the version"},
    [OPT_JSON]       = {"json", NULL, NULL, CLI_ASK | CLI_LIST | CLI_MEASURE | CLI_JOURNAL, 0, "print the whole answer as JSON, SI units"},
    [OPT_SHORT]      = {"short", NULL, NULL, CLI_SHORT, 0, "only the first two numbers"},
    [OPT_SET]        = {"set", "KEY=VALUE", NULL, CLI_SET, 0, "give any input by name: --set bait.density=1180; as often as needed"},
    [OPT_SEED]       = {"seed", "N", "seed", CLI_ASK | CLI_TRIAL, 0, "seed of the random draws or lot; 1 when not given"},
    [OPT_DRAWS]      = {"draws", "N", "draws", CLI_ASK, 0, "how many draws make the range"},
    [OPT_KIT]        = {"kit", "FILE", NULL, CLI_KIT, 0, "use this kit file, not $XDG_DATA_HOME/baitfall/kit.json"},
    [OPT_COUNTED]    = {"counted", "N", "counted.count", CLI_POT, 0, "so many of the bait named before it once filled this pot level"},
    [OPT_SVG]        = {"svg", "FILE", NULL, CLI_DRAW, 0, "write the drawing as SVG"},
    [OPT_PNG]        = {"png", "FILE", NULL, CLI_DRAW, 0, "write the drawing as PNG"},
    [OPT_PDF]        = {"pdf", "FILE", NULL, CLI_DRAW, 0, "write the drawing as PDF"},
    [OPT_VIEW]       = {"view", "VIEW", NULL, CLI_DRAW, 0, "which: above or side; of a review sheet, timeline, waits, catch, rates or change; the first when not given"},
    [OPT_LOOK]       = {"look", "LOOK", "look", CLI_DRAW, 0, "shade, sun or dusk"},
    [OPT_FORCE]      = {"force", NULL, NULL, CLI_DRAW | CLI_LOG, 0, "replace a file that is there already"},
    [OPT_HEIGHT]     = {"height", "LENGTH", "height", CLI_MEASURE, 0, "drop: how deep the piece falls"},
    [OPT_VESSEL]     = {"vessel", "LENGTH", "vessel", CLI_MEASURE, 0, "drop: inner width of the jar or bucket"},
    [OPT_TIMES]      = {"times", "S,S,...", "time", CLI_MEASURE, 1, "drop: seconds of one piece after another"},
    [OPT_COUNT]      = {"count", "N,N,...", "count", CLI_MEASURE, 1, "count: pieces in the level pot, one number a filling"},
    [OPT_WATER]      = {"water", "MASS", "water_kg", CLI_MEASURE, 0, "count: weight of the water that fills it level"},
    [OPT_DRY]        = {"dry", "MASS", "dry", CLI_MEASURE, 0, "soak: weight of the dry sample"},
    [OPT_AFTER]      = {"after", "T,T,...", "at", CLI_MEASURE, 1, "soak: time under water before each weighing"},
    [OPT_WET]        = {"wet", "M,M,...", "wet", CLI_MEASURE, 1, "soak: weight of the blotted sample each time"},
    [OPT_DISTANCES]  = {"distances", "D,D,...", "distance", CLI_MEASURE, 1, "throw: how far out single pieces met the water"},
    [OPT_DATE]       = {"date", "DATE", "date", CLI_MEASURE, 0, "the day of the measurement, 2026-04-11; today when not given"},
    [OPT_PORT]       = {"port", "N", NULL, CLI_SERVE, 0, "listen on this port; 8190 when not given"},
    [OPT_FOLDER]     = {"folder", "FOLDER", NULL, CLI_SERVE, 0, "the built page"},
    [OPT_DB]         = {"db", "FILE", NULL, CLI_JOURNAL, 0, "use this journal, not $XDG_DATA_HOME/baitfall/journal.db"},
    [OPT_SESSION]    = {"session", "ID", NULL, CLI_JOURNAL, 0, "the session whose id begins so, or `last`; not given: the open one, else the last"},
    [OPT_AT]         = {"at", "TIME", NULL, CLI_LOG, 0, "when it happened: 11:42, \"5 min ago\", \"yesterday 18:30\", 2026-04-12T09:31:05+01:00; now when not given"},
    [OPT_NOTE]       = {"note", "TEXT", NULL, CLI_LOG, 0, "words to go with the entry"},
    [OPT_ALL]        = {"all", NULL, NULL, CLI_LOG, 0, "list: every session's entries"},
    [OPT_CSV]        = {"csv", NULL, NULL, CLI_LOG, 0, "export: a table for spreadsheets"},
    [OPT_HOURS]      = {"hours", "N", "hours", CLI_TRIAL, 0, "plan: how long the blocks may take together; 5 when not given"},
    [OPT_BLOCK]      = {"block", "TIME", "block", CLI_TRIAL, 0, "plan: length of a block; 20 min when not given"},
    [OPT_WASHOUT]    = {"washout", "TIME", "washout", CLI_TRIAL, 0, "plan: dropped at the start of each block; 5 min when not given"},
    [OPT_BITES]      = {"bites", "N", "bites_per_h", CLI_TRIAL, 0, "plan: bites you expect an hour; the journal's so far when not given"},
};

static const cli_slot fall_slots[] = {{BF_LENGTH, "water.depth"}, {BF_TEMPERATURE, "water.temp"},
                                      {BF_DENSITY, "bait.density"}, {0, NULL}};

static const cli_slot pot_slots[] = {{BF_VOLUME, "pot.volume"}, {BF_LENGTH, "pot.mouth"}, {BF_PURE, "pot.fill"},
                                     {0, NULL}};

static const cli_slot soak_slots[] = {{BF_TIME, "soak.for"}, {BF_TIME, "soak.stand"}, {BF_TEMPERATURE, "soak.temp"},
                                      {0, NULL}};

static const cli_slot throw_slots[] = {{BF_SPEED, "sling.speed"}, {BF_SPEED, "water.wind"}, {BF_ANGLE, "sling.angle"},
                                       {BF_ANGLE, "water.wind_side"}, {BF_LENGTH, "sling.height"},
                                       {BF_TEMPERATURE, "water.temp"}, {0, NULL}};

static const cli_slot spread_slots[] = {{BF_LENGTH, "water.depth"}, {BF_TEMPERATURE, "water.temp"},
                                        {BF_VOLUME, "pot.volume"}, {BF_SPEED, "water.wind"},
                                        {BF_ANGLE, "water.wind_side"}, {BF_TIME, "put.over"},
                                        {BF_PURE, "put.count"}, {0, NULL}};

static const cli_slot measure_slots[] = {{BF_TEMPERATURE, "temp"}, {BF_VOLUME, "pot.volume"},
                                         {BF_SPEED, "water.wind"}, {BF_ANGLE, "water.wind_side"}, {0, NULL}};
/* clang-format on */

#define FEED (CLI_ANY | CLI_ASK | CLI_SHORT | CLI_KIT | CLI_SET)

const cli_command cli_commands[] = {
    {"fall",
     "how long feed takes to the bottom",
     "BAIT [DEPTH] [TEMPERATURE]",
     "Times one piece from the surface to the bottom in still water. Time spent hanging on the surface film "
     "is not counted; a note says when dry pieces may hang.",
     FEED,
     fall_slots,
     {{"fall hard-4 1.5m 12C", "a hard 4 mm pellet in 1.5 m of water at 12 C"},
      {"fall hard-4 \"5ft 3in give or take 2in\" 9C", "a depth that is only known roughly"},
      {"fall hard-4 1.5m --set bait.density=1180", "a density of your own"}},
     cli_feed},
    {"pot",
     "how many pieces a pot holds",
     "[COUNTED-BAIT --counted N] [BAIT] [VOLUME]",
     "Counts the pieces in a full pot. One pot once counted, of any bait, makes the answer for every other "
     "bait much narrower: name the counted bait, --counted and its number, then the bait asked for. Without "
     "a bait, every one of the catalogue; without a pot, the kit's own, else a medium one.",
     FEED | CLI_POT,
     pot_slots,
     {{"pot hard-4 20ml", "hard 4 mm pellets in a 20 ml pot"},
      {"pot micros-2 --counted 400 hard-4", "the same pot held 400 micros: how many hard 4 mm?"}},
     cli_feed},
    {"soak",
     "how soft feed gets, and how heavy",
     "BAIT [TIME] [TEMPERATURE]",
     "How far water goes into a pellet in a time, and what that does to its size and density. A second time "
     "is how long it stands drained before use.",
     FEED,
     soak_slots,
     {{"soak micros-2 6min 15C", "micros six minutes under water"},
      {"soak micros-2 6min 1h 15C", "... and drained for an hour"}},
     cli_feed},
    {"throw",
     "where a piece from the catapult lands",
     "BAIT [SPEED] [ANGLE] [WIND]",
     "Throws one piece through the air with drag. A second speed is the wind, a second angle where it blows "
     "to: 0 straight out, 90 to the right, 180 into the face.",
     FEED,
     throw_slots,
     {{"throw hard-6 14m/s", "a hard 6 mm pellet leaving at 14 m/s"},
      {"throw hard-6 14m/s 40deg \"4 Beaufort\" 180deg", "against the wind"}},
     cli_feed},
    {"spread",
     "where a put-in lies on the bottom",
     "BAIT [DEPTH] [TEMPERATURE] [POT] [WIND] [clump|sprinkle|throw|hand]",
     "Lets a whole put-in fall many times over and says where it lies and how wide. With --svg, --png or "
     "--pdf the drawing goes into a file.",
     FEED | CLI_DRAW,
     spread_slots,
     {{"spread hard-4 1.5m 12C 20ml \"3 m/s\" sprinkle", "a 20 ml pot sprinkled in a light wind"},
      {"spread micros-2 1.5m 12C clump --svg bed.svg", "a pot tipped at once, with the drawing"}},
     cli_feed},
    {"plan",
     "all the feed of a plan: amounts, times, the bed, the box",
     "FILE",
     "Reads a plan (JSON; `-` is standard input) and says for every line of feed how many pieces go in, "
     "when, how long they fall and where they lie, and whether the box is enough. Exit 1 when it is not.",
     CLI_ANY | CLI_ASK | CLI_KIT,
     NULL,
     {{"plan examples/withy-pool/peg-14.plan.json", "an invented day on an invented pool"},
      {"plan examples/withy-pool/peg-14.plan.json --json", "the same as JSON"}},
     cli_plan},
    {"measure",
     "a home measurement into the kit",
     "drop|count|soak|throw BAIT [readings]",
     "Narrows what the kit knows of a bait by measuring it at home: times in a jar, a counted pot, a weighed "
     "soak, paced throws. Drop: let single wet pieces go just under the surface, five to twenty of them. "
     "Count: "
     "fill the pot level; weigh the water it holds too. Soak: blot before each weighing. Throw: always the "
     "same "
     "way; say the wind. The old value stays in the kit with its date. A bait is used by its name from then "
     "on; \"my pot\" and \"my catapult\", or the only ones of the kit, are used whenever none is named.",
     CLI_ANY | CLI_KIT | CLI_SET | CLI_MEASURE,
     measure_slots,
     {{"measure drop hard-4 --height 30cm --vessel 12cm --times 3.1,3.3,2.9,3.4 12C", "timed in a jar"},
      {"measure count micros-2 medium --count 400,390", "the kit's pot \"medium\", filled and counted twice"},
      {"measure soak micros-2 --dry 20g --after 5min,15min --wet 29g,33g 15C",
       "a sample weighed again and again"},
      {"measure throw hard-6 --distances 11m,11.5m,10.8m,11.2m", "paced or taped throws"}},
     cli_measure},
    {"log",
     "the journal: what happened at the water, kept for good",
     "add|now|list|show|sessions|cross|restore|fix|import|export|check|backup [words]",
     "Adds entries to the journal on this machine, shows them, and puts them right by further entries: "
     "nothing is ever deleted. "
     "`log add` alone lists what can be added, `log now` says how the session stands. Entries are named by "
     "the "
     "first digits of their id, or `last`. Import takes what a phone exported, "
     "or a CSV of our own; entries that are in already are known by their id. Exit 3 when lines were refused "
     "(the good ones are kept), 1 "
     "when a check finds a fault.",
     CLI_ANY | CLI_JOURNAL | CLI_LOG | CLI_SET | CLI_KIT,
     NULL,
     {{"log add open \"Withy Pool\" 14", "a session on an invented pool"},
      {"log add feed soft-two 30ml clump long", "a put-in"},
      {"log add missed --at \"5 min ago\"", "a bite missed"},
      {"log now", "how it stands: feed, bites, nets, the box"},
      {"log cross last", "that one does not count; `log restore` puts it back"},
      {"log export day.journal.jsonl", "every line, for another device"}},
     cli_log},
    {"review",
     "one session looked back on",
     "[SESSION|FILE|-]",
     "Three sentences, each only when five observations or more are behind it, then one thing to try, and "
     "tables: how drops ended, waits, rates, half hours, nets. Without a word the open session, else the "
     "last; "
     "a session by the first digits of its id, or of any of its entries, or `last`. With --pdf, --svg or "
     "--png an A5 "
     "sheet, or what --view names.",
     CLI_ANY | CLI_JOURNAL | CLI_DRAW | CLI_KIT,
     NULL,
     {{"review examples/withy-pool/spring-day.journal.jsonl", "an invented day on an invented pool"},
      {"review", "the last session of this machine's journal"},
      {"review day.journal.jsonl --pdf day.pdf", "a file that a phone exported, and its sheet"},
      {"review --svg waits.svg --view waits", "how long bites took, drawn"}},
     cli_review},
    {"season",
     "all sessions together",
     "[FILE|-]",
     "Fish an hour by feed, method, water temperature, venue, month and time of day, each row leaning "
     "towards its "
     "like where it has little of its own, and the waits to expect next time. Feed is changed when bites "
     "stop: no row says why.",
     CLI_ANY | CLI_JOURNAL,
     NULL,
     {{"season", "the journal of this machine"},
      {"season examples/withy-pool/spring-day.journal.jsonl --json", "a file, as JSON"}},
     cli_season},
    {"trial",
     "two feeds compared by turns drawn by lot",
     "[plan] [SESSION|FILE|-]",
     "Plan: blocks in pairs whose order a lot decides, and one line to enter as a note when the first "
     "begins. Without "
     "`plan`: what came of it, with all days of the same two feeds put together. It says how small a "
     "difference it could have found. --set measure=fish counts fish an hour by the clock, --set alone=true "
     "this day alone.",
     CLI_ANY | CLI_JOURNAL | CLI_TRIAL | CLI_SET,
     NULL,
     {{"trial plan --set a=\"soft two\" --set b=\"hard four\"", "five hours in blocks of 20 minutes"},
      {"trial plan --set a=micros-2 --set b=hard-4 --hours 4 --seed 7 --bites 15",
       "how small a difference it could find"},
      {"trial", "what came of the last one, and of all like it"}},
     cli_trial},
    {"catalogue",
     "the baits known by a word, and where their values come from",
     "[BAIT]",
     "Lists the generic forms; with a word, only those whose word or title has it in them. Exit 4 when none "
     "has.",
     CLI_ANY | CLI_LIST,
     NULL,
     {{"catalogue", "all of them"}, {"catalogue hard-4", "one, with the origin of its values"}},
     cli_catalogue},
    {"form",
     "the inputs of a section: name, unit, accepted range",
     "[SECTION]",
     "What --set, a request, a plan or a measurement accepts in one section. Without a section, the names of "
     "all.",
     CLI_ANY | CLI_LIST,
     NULL,
     {{"form bait", "everything a bait is described by"}, {"form", "which sections there are"}},
     cli_form},
    {"serve",
     "the page, on this machine only",
     "",
     "Serves the built page to browsers on this machine until it is interrupted. Exit 1 when the port is "
     "taken.",
     CLI_ANY | CLI_SERVE,
     NULL,
     {{"serve", "on port 8190"}, {"serve --port 8200", "on another"}},
     cli_serve},
    {"demo",
     "four questions about an invented peg, answered",
     "",
     "",
     CLI_ANY,
     NULL,
     {{"demo", "what is in the pot, how long it takes down, where it lies, how a day went"}},
     cli_demo},
    {"help",
     "what the program does, or one command",
     "[COMMAND]",
     "",
     CLI_ANY,
     NULL,
     {{"help spread", "one command, with examples"}},
     cli_help},
    {"man",
     "the manual page, in roff",
     "",
     "",
     CLI_ANY,
     NULL,
     {{"man > baitfall.1", "to install it"}},
     cli_man},
    {"completion",
     "completions for a shell",
     "bash|zsh|fish",
     "",
     CLI_ANY,
     NULL,
     {{"completion bash > baitfall", "for bash"}},
     cli_completion},
};

const int cli_n_commands = (int)(sizeof cli_commands / sizeof cli_commands[0]);

const cli_command *cli_find(const char *name) {
    for (int i = 0; i < cli_n_commands; i++)
        if (strcmp(cli_commands[i].name, name) == 0) return &cli_commands[i];
    return NULL;
}
