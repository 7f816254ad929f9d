/* fixed.h -- the numbers of the swim's model that are not learned, in one table. Internal.
 *
 * X(name, unit, value, why). "judgement" says that no source was found: the value is a middle of what common practice
 * makes plausible. docs/models/swim.md repeats the table (tests/swim/model_test.c compares the two).
 * Lengths of pieces are in mm where they only weigh pieces against each other.
 */
#ifndef BFI_SWIM_FIXED_H
#define BFI_SWIM_FIXED_H

/* clang-format off */
#define BFI_SWIM_FIXED_LIST(X)                                                                                               \
    /* sizes */                                                                                                              \
    X(SEARCH_POWER,   "1",       1.4,    "search rate by piece size: a swath grows as d, a frontal area as d^2; judgement")   \
    X(HANDLE_POWER,   "1",       0.7,    "handling by piece size: rises with it (crucian carp, read), power is judgement")   \
    /* feeding */                                                                                                            \
    X(CROWDING,       "1",       0.15,   "interference of each further fish (Beddington-DeAngelis form), judgement")         \
    X(FULL_KEEN,      "1",       0.05,   "what a full fish still does of a hungry one's feeding, judgement")                 \
    X(MEAL_KG,        "kg",      0.02,   "dry feed that fills a fish at its best temperature; elsewhere by appetite: 15 g at 20 C, about 1 % of 1 to 2 kg (from memory)") \
    X(HUNGER_S,       "s",       36000., "hunger comes back: gut evacuation 0.065 to 0.10 an hour gives 36000 to 55000")      \
    X(SCATTER_M2,     "m2",      2e-4,   "bed that one piece taken spreads over: a 1 to 2 cm plume of silt, judgement")      \
    X(LURE_TIGHT,     "1/m2",    4.0,    "pull of the tight feed on the fish of the spot, judgement")                        \
    X(LURE_LOOSE,     "1/m2",    20.0,   "pull of scattered feed, met without a scrum: hand-set, not ideal free")            \
    X(LURE_SPOT,      "1/s",     3.0,    "pull of the bare spot itself, judgement")                                          \
    X(LURE_ROUND,     "1/s",     0.9,    "pull of the ground round it, judgement")                                           \
    /* coming and going */                                                                                                   \
    X(UNFED,          "1",       0.2,    "of the coming without a cue, what there is where nothing was fed yet, judgement")  \
    X(SMELL_HALF_MM,  "mm",      200,   "sum of piece diameters at half the full smell (leak of a sphere grows as d)")      \
    X(COMPANY,        "1",       1.0,    "feeding fish draw others: as much again at a full spot, judgement")                \
    X(COMPANY_HALF,   "fish",    4.0,    "half of that, judgement")                                                          \
    X(SHY_ARRIVE,     "1",       0.5,    "wariness holds arrivals back, judgement")                                          \
    X(ROAM_S,         "s",       1500.,  "a fish stays within reach of the peg: some 15 m of a home range of 100 x 70 m (read), judgement") \
    X(ROAM_NOISE,     "1",       0.5,    "feeding noise draws passers-by, each unit of splash, judgement")                   \
    X(LEAVE_ANYWAY,   "1/s",     4e-4,   "a fish leaves whatever lies there, judgement")                                     \
    X(GIVE_UP_1_S,    "1/s",     0.05,   "pieces a second and fish at which giving up is half as likely (Charnov's form)")   \
    X(LEAVE_FIGHT,    "1/s",     7e-3,   "leaving just after a fish was played through the spot, judgement")                 \
    X(LEAVE_WARY,     "1/s",     7e-4,   "leaving for each unit of wariness, judgement")                                     \
    X(MOVE,           "1",       0.3,    "share of leavers that try another fished spot near by, judgement")                 \
    X(MOVE_M,         "m",       10.,    "distance between spots at which that is half, judgement")                          \
    /* memories */                                                                                                           \
    X(SPLASH_S,       "s",       40.,    "a put-in's noise is remembered, judgement")                                        \
    X(SPLASH_LOOSE,   "1",       0.12,   "noise of n pieces thrown, times sqrt n, against a pot's 1, judgement")             \
    X(FIGHT_S,        "s",       30.,    "a fight is remembered, judgement")                                                 \
    X(EXPECT_S,       "s",       900.,   "fish expect feed where it kept coming, judgement")                                 \
    X(EXPECT_HALF,    "put-ins", 3.0,    "put-ins that halve giving up a clean bottom, judgement")                           \
    X(WARY_S,         "s",       3600.,  "wariness fades: hook caution lasts hours in tanks (read)")                         \
    X(GRAZE,          "1",       1.5,    "and faster while fish graze scattered feed, judgement")                            \
    X(GRAZE_HALF,     "m2/s",    0.2,    "search area x scattered pieces at half of that: ten 4 mm pieces, judgement")       \
    /* wariness */                                                                                                           \
    X(WARY_LANDED,    "1",       0.04,   "added by a fish landed, judgement")                                                \
    X(WARY_LOST,      "1",       0.15,   "by a fish lost or hooked outside: worst (Beukema, read second hand)")              \
    X(WARY_MISSED,    "1",       0.03,   "by a strike that met nothing, judgement")                                          \
    X(WARY_POT,       "1",       0.01,   "by a pot turned over feeding fish, judgement")                                     \
    X(SHY_TIGHT,      "1",       0.9,    "wariness against the fed patch, judgement")                                        \
    X(SHY_LOOSE,      "1",       0.15,   "and against scattered feed, judgement")                                            \
    X(SHY_TAKE,       "1",       0.5,    "and against the hook bait, judgement")                                             \
    /* small nuisance fish */                                                                                                \
    X(NUISANCE_EAT_1_S, "1/s",   0.1,    "small pieces a second that one takes at most, judgement")                          \
    X(NUISANCE_HALF,  "pieces",  50.,    "small pieces lying at half of that, judgement")                                    \
    X(NUISANCE_MM,    "mm",      3.0,    "soft pieces of this size are half as easy for it as the smallest, judgement")      \
    X(NUISANCE_HARD,  "1",       0.1,    "hard against soft ones, judgement")                                                \
    X(NUISANCE_KNOCK_1_S, "1/s", 1e-2,   "knocks of one at the hook bait: every two minutes, judgement")                     \
    X(NUISANCE_TAKE_1_S, "1/s",  3e-4, "times one takes a soft hook bait off and is struck at, judgement")                 \
    /* at the hook */                                                                                                        \
    X(REFUSED_S,      "s",       60.,    "a fish that has refused the hook bait passes it by for so long, judgement")        \
    X(SMALL_MM,       "mm",      3.0,    "below this a piece counts as small feed")                                          \
    X(SMALL_HALF,     "pieces",  150.,   "small pieces lying at half their effect, judgement")                               \
    X(BLIND,          "1",       0.55,   "loss of takes where all the food is small (search image), judgement")              \
    X(LINE_FEW,       "1",       0.15,   "fish against the line without small feed, of what it is with it, judgement")       \
    X(LINE_STRUCK,    "1",       0.35,   "line bites that are struck at, judgement")                                         \
    X(CLEAN,          "1",       0.85,   "strikes at a take that hook the fish, at best, judgement")                         \
    X(CROWD_FISH,     "fish",    8.0,    "the crowd that CROWD is said for")                                                 \
    X(CROWD_FEW,      "1",       0.25,   "its effect without small feed, judgement")                                         \
    X(LANDS,          "1",       0.92,   "of fish hooked in the mouth, judgement")                                           \
    X(FOUL_LANDS,     "1",       0.45,   "of fish hooked outside, judgement")                                                \
    X(FOUL_MISSED,    "1",       0.3,    "share of missed takes whose hook travels past a fish, judgement")                  \
    X(PASSING_1_S,    "1/s",     2e-5,   "a bite out of the blue, each outcome: keeps the filter alive")                     \
    X(TOUCH_PASSING_1_S, "1/s",  1e-4,   "the same for touches")                                                             \
    /* what is entered */                                                                                                    \
    X(MISLABELLED,    "1",       0.03,   "bites entered under one of the other three words, judgement")                      \
    X(NOT_ENTERED,    "1",       0.03,   "bites never entered, judgement")                                                   \
    X(RIG_IN_SHARE,   "1",       0.6,    "of a stretch not logged tap by tap, the rig is in, judgement")                     \
    X(LOOK_CUT,       "1",       0.35,   "less or more is said beyond this logarithm of left over shown, judgement")         \
    X(LOOK_SD,        "1",       0.7,    "scatter of the eye in that logarithm, judgement")                                  \
    X(TOP_LIP,        "1",       0.3,    "mouth holds in the middle of the top lip; its level drops out, only HOLD tells")   \
    X(HOLD_HALF,      "pieces",  20.,    "pieces left at which HOLD has no effect, judgement")                               \
    X(TEMP_C,         "C",       16.,    "taken where none was measured")

/* clang-format on */

#define BFI_SWIM_CONSTANT(name, unit, value, why) static const double name = value;
BFI_SWIM_FIXED_LIST(BFI_SWIM_CONSTANT)
#undef BFI_SWIM_CONSTANT

#endif
