/* commands.c -- every option and every command, once. */
#include <string.h>

#include "cli/cli.h"

/* clang-format off */
const cli_option cli_options[CLI_N_OPTIONS] = {
    [OPT_HELP]       = {"help", NULL, NULL, CLI_ANY, 0, "say how the command is used"},
    [OPT_VERSION]    = {"version", NULL, NULL, CLI_ANY, 0, "print the version"},
    [OPT_JSON]       = {"json", NULL, NULL, CLI_ASK | CLI_LIST | CLI_MEASURE | CLI_JOURNAL | CLI_REHEARSE, 0, "print the whole answer as JSON, SI units"},
    [OPT_SHORT]      = {"short", NULL, NULL, CLI_SHORT, 0, "only the first two numbers"},
    [OPT_SET]        = {"set", "KEY=VALUE", NULL, CLI_SET, 0, "give any input by name: --set bait.density=1180; as often as needed"},
    [OPT_SEED]       = {"seed", "N", "seed", CLI_ASK | CLI_TRIAL | CLI_BED | CLI_REHEARSE | CLI_REVIEW, 0, "seed of the random draws or lot; 1 when not given"},
    [OPT_DRAWS]      = {"draws", "N", "draws", CLI_ASK, 0, "how many draws make the range"},
    [OPT_KIT]        = {"kit", "FILE", NULL, CLI_KIT, 0, "use this kit file, not $XDG_DATA_HOME/baitfall/kit.json"},
    [OPT_COUNTED]    = {"counted", "N", "counted.count", CLI_POT, 0, "so many of the bait named before it once filled this pot level"},
    [OPT_SVG]        = {"svg", "FILE", NULL, CLI_DRAW, 0, "write the drawing as SVG"},
    [OPT_PNG]        = {"png", "FILE", NULL, CLI_DRAW, 0, "write the drawing as PNG"},
    [OPT_PDF]        = {"pdf", "FILE", NULL, CLI_DRAW, 0, "write the drawing as PDF"},
    [OPT_VIEW]       = {"view", "VIEW", NULL, CLI_DRAW, 0, "which: above or side; of a rig section; of a plan card-a6, card-a6-back or card-a5; of a review sheet, timeline, waits, catch, rates or change; of a bed left, fish or above; the first when not given"},
    [OPT_LOOK]       = {"look", "LOOK", "look", CLI_DRAW, 0, "shade, sun or dusk"},
    [OPT_FORCE]      = {"force", NULL, NULL, CLI_DRAW | CLI_LOG | CLI_PLAN | CLI_REHEARSE, 0, "replace a file that is there already"},
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
    [OPT_DB]         = {"db", "FILE", NULL, CLI_JOURNAL | CLI_REHEARSE, 0, "use this journal, not $XDG_DATA_HOME/baitfall/journal.db"},
    [OPT_SESSION]    = {"session", "ID", NULL, CLI_JOURNAL, 0, "the session whose id begins so, or `last`; not given: the open one, else the last"},
    [OPT_AT]         = {"at", "TIME", NULL, CLI_LOG | CLI_BED | CLI_REHEARSE, 0, "when it happened: 11:42, \"5 min ago\", \"yesterday 18:30\", 2026-04-12T09:31:05+01:00; now when not given; of a bed or advice the instant asked about, 11:42 by the session's own clock; of a rehearsal with --from when your turn begins"},
    [OPT_NOTE]       = {"note", "TEXT", NULL, CLI_LOG, 0, "words to go with the entry"},
    [OPT_ALL]        = {"all", NULL, NULL, CLI_LOG, 0, "list: every session's entries"},
    [OPT_CSV]        = {"csv", NULL, NULL, CLI_LOG, 0, "export: a table for spreadsheets"},
    [OPT_HOURS]      = {"hours", "N", "hours", CLI_TRIAL, 0, "plan: how long the blocks may take together; 5 when not given"},
    [OPT_BLOCK]      = {"block", "TIME", "block", CLI_TRIAL, 0, "plan: length of a block; 20 min when not given"},
    [OPT_WASHOUT]    = {"washout", "TIME", "washout", CLI_TRIAL, 0, "plan: dropped at the start of each block; 5 min when not given"},
    [OPT_BITES]      = {"bites", "N", "bites_per_h", CLI_TRIAL, 0, "plan: bites you expect an hour; the journal's so far when not given"},
    [OPT_ICS]        = {"ics", "FILE", NULL, CLI_PLAN, 0, "write what is to be done before the start as appointments (iCalendar)"},
    [OPT_PEG]        = {"peg", "NAME", NULL, CLI_PEG, 0, "the peg drawn"},
    [OPT_PLUMBED]    = {"plumbed", "D:Z,D:Z,...", NULL, CLI_PEG, 0, "up to six places: how far out and how deep, 5m:1.35m,11.5m:1.62m"},
    [OPT_TOOK]       = {"took", "M,M,...", "took", CLI_MEASURE, 1, "float: shot it took to where the bristle begins, one number a try"},
    [OPT_LOADS]      = {"loads", "M,M,...", "load", CLI_MEASURE, 1, "pull: weights hung on the elastic, ever heavier"},
    [OPT_LENGTHS]    = {"lengths", "D,D,...", "long", CLI_MEASURE, 1, "pull: how long it was under each of them"},
    [OPT_REST]       = {"rest", "D", "rest", CLI_MEASURE, 0, "pull: its length with nothing on it"},
    [OPT_BROKE]      = {"broke", "M,M,...", "broke", CLI_MEASURE, 1, "break: loads at which pieces broke, wet and knotted"},
    [OPT_SHOTS]      = {"shots", "N", "count", CLI_MEASURE, 0, "weigh: how many shot lie on the scales"},
    [OPT_TOGETHER]   = {"together", "M", "together", CLI_MEASURE, 0, "weigh: what they weigh together"},
    [OPT_BEYOND]     = {"beyond", "D,D,...", "out", CLI_MEASURE, 1, "aim: how far beyond the ring each drop came down, below 0 short of it"},
    [OPT_RIGHT]      = {"right", "D,D,...", "right", CLI_MEASURE, 1, "aim: how far to the right of it, below 0 to the left"},
    [OPT_HELD]       = {"held", "D,D,...", "held", CLI_MEASURE, 1, "aim: how far the tip was off its place, looked at now and then"},
    [OPT_RING]       = {"ring", "D", "distance", CLI_MEASURE, 0, "aim: from you to the ring"},
    [OPT_SPOT]       = {"spot", "NAME", "spot", CLI_BED, 0, "which of the session's spots; the last fed or fished when not given"},
    [OPT_PLAN]       = {"plan", "PLAN", NULL, CLI_BED | CLI_REHEARSE | CLI_REVIEW, 0, "the plan fished to: its baits, pots, depths and rigs"},
    [OPT_BOOK]       = {"book", NULL, NULL, CLI_BED | CLI_REHEARSE | CLI_REVIEW, 0, "start from the book's numbers, not from what earlier sessions told"},
    [OPT_LEARNED]    = {"learned", NULL, NULL, CLI_SEASON | CLI_REHEARSE, 0, "and what the bed's model learned, and how well it foretold the last forty sessions; of a rehearsal: fish drawn from what your sessions told; the first time it takes seconds for each"},
    [OPT_OBJECTIVE]  = {"objective", "WHAT", "objective", CLI_NEXT | CLI_REHEARSE, 0, "weight, number, target (the session's) or species; weight when not given"},
    [OPT_FOLLOW]     = {"follow", NULL, NULL, CLI_NEXT, 0, "advise again as the journal grows, until the session is closed; with `-` answer each line that asks"},
    [OPT_FROM]       = {"from", "SESSION", NULL, CLI_REHEARSE, 0, "go on from a real session, by its id, `last` or a file of journal lines, at the instant that --at names"},
    [OPT_WHAT_IF]    = {"what-if", "FEEDING", NULL, CLI_REVIEW, 0, "the session under another feeding, by the model of `bed`: half, double, \"3 times\", \"every 10 min\", \"none after 12:00\", \"hard-6 instead of hard-4\"; several with commas; with --plan for depths and rigs"},
    [OPT_OUT]        = {"out", "FILE", NULL, CLI_REHEARSE, 0, "keep the rehearsal in this file as it goes: it can be gone on with, and sent"},
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

static const cli_slot rig_slots[] = {{BF_LENGTH, "water.depth"}, {BF_TEMPERATURE, "water.temp"},
                                     {BF_SPEED, "water.wind"}, {BF_ANGLE, "water.wind_side"}, {0, NULL}};

static const cli_slot aim_slots[] = {{BF_LENGTH, "water.depth"}, {BF_TEMPERATURE, "water.temp"},
                                     {BF_SPEED, "water.wind"}, {BF_ANGLE, "water.wind_side"},
                                     {BF_VOLUME, "pot.volume"}, {BF_PURE, "put.count"}, {0, NULL}};

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
    {"rig",
     "how the rig hangs, and what moves it",
     "[RIG] [HOOK-BAIT] [DEPTH] [TEMPERATURE] [WIND] [WIND-SIDE]",
     "Finds where the hook bait is against the point under the pole tip, in wind and drift: how far a gust "
     "moves it, which part of the rig is to blame, what the float shows, and what would break first. The rig "
     "is a word of the catalogue, one of the kit, or --set rig.float.rating=0.5g and so on. Wind: none, "
     "light "
     "or brisk, from the left, facing, right or behind; or a speed and where it blows to, 0 straight out, 90 "
     "to "
     "the right, 180 into the face.",
     FEED | CLI_DRAW,
     rig_slots,
     {{"rig middle hard-6 1.6m 12C \"3 m/s\" 90deg", "a start rig in a wind from the left"},
      {"rig light expander-4 1.2m \"2 Beaufort\"", "with another hook bait; the wind's side unknown"},
      {"rig middle hard-6 1.6m \"3 m/s\" 90deg --svg rig.svg", "and the drawing"}},
     cli_feed},
    {"lay",
     "how the rig goes down, and when to lower it",
     "BAIT [RIG] [HOOK-BAIT] [DEPTH] [TEMPERATURE] [WIND] [WIND-SIDE] [clump|sprinkle|throw|hand]",
     "Lets the rig down and the feed before it: when the hook bait is down and still, when nine pieces in "
     "ten of the put-in are, and how long after it to start lowering. --set hold.lowering=lay lays it out "
     "flat.",
     FEED | CLI_DRAW,
     aim_slots,
     {{"lay hard-4 middle hard-6 1.6m 12C", "a pot of hard 4 mm, then the rig"},
      {"lay micros-2 middle hard-6 1.6m clump", "a pot of micros under a hard 6 mm hook bait"}},
     cli_feed},
    {"aim",
     "how far hook bait and feed miss each other, and what to mend first",
     "BAIT [RIG] [HOOK-BAIT] [DEPTH] [TEMPERATURE] [WIND] [WIND-SIDE] [clump|sprinkle|throw|hand]",
     "Adds up every slip: the pole off its mark, the marker on the far bank, the pot behind the tip, depth, "
     "drift and scatter of the feed, how the rig hangs, how still it is held. Says how often the bait lies "
     "on "
     "the feed, whose fault a miss is, and what mending each would gain. Your own slips: --set "
     "\"aim.ship=0 m give or take 3 cm\".",
     FEED | CLI_DRAW,
     aim_slots,
     {{"aim hard-4 middle hard-6 1.6m 12C \"3 m/s\" 90deg", "fed by pot, in a wind from the left"},
      {"aim hard-4 middle hard-6 1.6m --set aim.pot_comp=0cm", "when nobody leans forward to feed"},
      {"aim hard-4 middle hard-6 1.6m --png miss.png", "with the landing seen from above"}},
     cli_feed},
    {"plan",
     "a whole plan: feed, rigs, aim, the box, the card for the bank",
     "FILE",
     "Reads a plan (JSON; `-` is standard input). For every line of feed: how many pieces, when, how long "
     "they fall, where they lie, and whether the box is enough. For every spot: how the rig hangs, when to "
     "lower it, how often the bait lies on the feed, what to mend first, and what this program would tie "
     "instead and why. For a peg not known yet the fewest rigs that will do. What to prepare and when, what "
     "to "
     "pack, which rules of the venue it keeps. --pdf writes the card for the bank: A6, two sides, or with "
     "--view card-a5 one A5 page. Exit 1 when the box is short.",
     CLI_ANY | CLI_ASK | CLI_KIT | CLI_DRAW | CLI_PLAN,
     NULL,
     {{"plan examples/withy-pool/peg-14.plan.json", "an invented day on an invented pool"},
      {"plan examples/withy-pool/peg-14.plan.json --pdf card.pdf", "and the card, to be printed"},
      {"plan examples/withy-pool/peg-14.plan.json --ics prep.ics", "and the evening's work for the calendar"},
      {"plan examples/withy-pool/peg-14.plan.json --json", "the same as JSON"}},
     cli_plan},
    {"peg",
     "the peg drawn: where to fish, which rig, the first half hour",
     "FILE [WIND] [SIDE] [TEMPERATURE]",
     "Reads a plan and takes what is seen on the morning: wind (none, light, brisk, or 3m/s) and where it "
     "comes from (left, facing, right, behind), the water's temperature, up to six plumbed places. Says "
     "which "
     "place to start on, which of the rigs carried hangs best there, and what to do in the first half hour.",
     CLI_ANY | CLI_ASK | CLI_KIT | CLI_PEG,
     NULL,
     {{"peg examples/withy-pool/peg-14.plan.json light left 11.5C --plumbed 2.5m:0.6m,5m:1.35m,11.5m:1.62m",
       "an invented morning on an invented pool"}},
     cli_peg},
    {"measure",
     "a home measurement into the kit",
     "drop|count|soak|throw|float|pull|break|weigh|aim [BAIT|RIG|ELASTIC] [readings]",
     "Narrows what the kit knows by measuring at home. Of a bait: times in a jar, a counted pot, a weighed "
     "soak, paced throws. "
     "Of tackle: the shot a float takes in a tube, weights hung on elastic, line broken, shot weighed. Of "
     "yourself: drops at a "
     "ring. Drop: let single wet pieces go just under the surface, five to twenty of them. Count: fill the "
     "pot level; weigh the "
     "water it holds too. Soak: blot before each weighing. Throw: always the same way; say the wind. Float: "
     "weigh the shot, and "
     "say --set mass_frac=1 --set mass_pm_frac=0.02. Pull: do not let it back in between. Break: wet and "
     "knotted as fished, away "
     "from your eyes. Aim: three drops at least, ten or more are better. The old value stays in the kit with "
     "its date. A bait, a "
     "rig or an elastic is used by its name from then on; \"my pot\", \"my catapult\" and \"my aim\", or the "
     "only ones of the kit, "
     "are used whenever none is named.",
     CLI_ANY | CLI_KIT | CLI_SET | CLI_MEASURE,
     measure_slots,
     {{"measure drop hard-4 --height 30cm --vessel 12cm --times 3.1,3.3,2.9,3.4 12C", "timed in a jar"},
      {"measure count micros-2 medium --count 400,390", "the kit's pot \"medium\", filled and counted twice"},
      {"measure soak micros-2 --dry 20g --after 5min,15min --wet 29g,33g 15C",
       "a sample weighed again and again"},
      {"measure throw hard-6 --distances 11m,11.5m,10.8m,11.2m", "paced or taped throws"},
      {"measure float middle --took 0.37g,0.38g --set mass_frac=1 --set mass_pm_frac=0.02",
       "weighed shot, in a tube"},
      {"measure pull --rest 30cm --loads 70g,140g --lengths 60cm,120cm --set elastic.outer=1.2mm",
       "elastic at rest and under weights"},
      {"measure break middle line --broke 0.9kg,1.0kg,0.95kg", "the main line of a rig"},
      {"measure weigh middle \"No 8\" --shots 20 --together 1.26g", "the shot that a rig is made up with"},
      {"measure aim --ring 11m --beyond 4cm,-2cm,1cm,7cm --right 1cm,0cm,-2cm,2cm", "four drops at a ring"}},
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
    {"bed",
     "what the feed may have come to: what is left, what is about",
     "[SESSION|FILE|-]",
     "From what went in and what came back: feed left, fish on it, bites to expect, each with its range, now "
     "or at a time. What is known comes first. The rest is a model that starts from guesses and learns from "
     "the journal, "
     "not a measurement; the last twenty sessions before this one are learned from, which takes a second or "
     "so for each "
     "the first time. --plan or the kit say how large the baits are, how deep the spots, how well the rig "
     "hits; start values stand in, and a note says so. Your own eye counts: `log add look less|right|more "
     "SPOT PIECES-SHOWN`.",
     CLI_ANY | CLI_JOURNAL | CLI_DRAW | CLI_KIT | CLI_BED,
     NULL,
     {{"bed examples/withy-pool/spring-day.journal.jsonl --at 12:10", "an invented day on an invented pool"},
      {"bed examples/withy-pool/spring-day.journal.jsonl --at 12:10 --plan "
       "examples/withy-pool/peg-14.plan.json",
       "the same with the plan's baits, pots, depths and rig"},
      {"bed", "now, at the last spot of this machine's open session"},
      {"bed --spot long --svg bed.svg", "one spot, and feed left over the last 90 minutes drawn"}},
     cli_bed},
    {"next",
     "what to do next, and why",
     "[SESSION|FILE|-]",
     "Feed now, how much, how; hold off until when; another hook bait or spot: each tried an hour ahead on "
     "what "
     "is believed of the swim (see `bed`), the best one said with its reasons, why not the others, and what "
     "would "
     "change it. Where the best do not differ by more than can be told it says so: either, your call. Until "
     "five "
     "of your own sessions of 20 lifts or more are in the journal advice is of the book: words, no odds. "
     "Venue "
     "rules on feed are kept as far as --plan has them. It is a model, not a measurement; --follow says it "
     "again when something else has become clearly better, and not before.",
     CLI_ANY | CLI_JOURNAL | CLI_KIT | CLI_BED | CLI_NEXT,
     NULL,
     {{"next examples/withy-pool/spring-day.journal.jsonl --at 12:10",
       "at ten past twelve of an invented day"},
      {"next", "now, at the last spot of this machine's open session"},
      {"next --follow --objective number", "and again whenever it changes"}},
     cli_next},
    {"rehearse",
     "a simulated session to practise on, its truth told afterwards",
     "[FILE|-]",
     "No fish are there: the water is the model of `bed`, its hidden truth drawn by --seed. You say what you "
     "do, a line at "
     "a time, in the words of `log add`: `feed hard-4 15`, `lower`, `wait 5`, `until bite`; `bed` and `next` "
     "answer from "
     "what showed, as at the water. `end` tells what lay there and how many fish there were, and what each "
     "decision cost against the best of what `next` tries, as a range. The same seed and choices are the "
     "same day. Lines may come "
     "from a pipe or a file; a rehearsal's own file (--out) is gone on with, and sent to somebody else as it "
     "is. It "
     "never enters the journal.",
     CLI_ANY | CLI_KIT | CLI_REHEARSE,
     NULL,
     {{"rehearse", "on an invented peg"},
      {"rehearse --plan examples/withy-pool/peg-14.plan.json --seed 7 --out day.rehearsal.json",
       "on a plan's peg, kept in a file"},
      {"rehearse day.rehearsal.json", "gone on with, or looked at"},
      {"rehearse --from examples/withy-pool/spring-day.journal.jsonl --at 11:00",
       "a real day from eleven on: your turn"}},
     cli_rehearse},
    {"review",
     "one session looked back on",
     "[SESSION|FILE|-]",
     "Three sentences, each only when five observations or more are behind it, then one thing to try, and "
     "tables: how drops ended, waits, rates, half hours, nets. Without a word the open session, else the "
     "last; "
     "a session by the first digits of its id, or of any of its entries, or `last`. With --pdf, --svg or "
     "--png an A5 "
     "sheet, or what --view names. --what-if fishes the session again under another feeding, beside its own, "
     "and says the difference as a range, and how weak that is.",
     CLI_ANY | CLI_JOURNAL | CLI_DRAW | CLI_KIT | CLI_REVIEW,
     NULL,
     {{"review examples/withy-pool/spring-day.journal.jsonl", "an invented day on an invented pool"},
      {"review", "the last session of this machine's journal"},
      {"review day.journal.jsonl --pdf day.pdf", "a file that a phone exported, and its sheet"},
      {"review --svg waits.svg --view waits", "how long bites took, drawn"},
      {"review examples/withy-pool/spring-day.journal.jsonl --what-if \"half, every 10 min\"",
       "the same day fed otherwise, as a range"}},
     cli_review},
    {"season",
     "all sessions together",
     "[FILE|-]",
     "Fish an hour by feed, method, water temperature, venue, month and time of day, each row leaning "
     "towards its "
     "like where it has little of its own, and the waits to expect next time. Feed is changed when bites "
     "stop: no row says why.",
     CLI_ANY | CLI_JOURNAL | CLI_KIT | CLI_SEASON,
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
     "the baits, pots and rigs known by a word, and where their values come from",
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
