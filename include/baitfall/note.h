/* note.h -- remarks that go with an answer: what is not modelled, what disagrees, what to mind.
 *
 * A note is a code and up to three numbers; the sentence stands here once, with {0}, {1}, {2} where the
 * numbers go followed by how to print them: {0:m} {0:mm} {0:cm} {0:s} {0:min} {0:pct} {0:n} (a count) {0:c}
 * {0:g} (a mass) {0:shot} (the word of a bf_shot_size).
 */
#ifndef BAITFALL_NOTE_H
#define BAITFALL_NOTE_H

#include "baitfall/ensemble.h"

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, slug, sentence) */
#define BF_NOTE_LIST(X)                                                                                      \
    X(BF_NOTE_ESTIMATE, "estimate", "Estimates, not measurements.")                                          \
    X(BF_NOTE_POWER_LINES, "power-lines",                                                                    \
      "Poles conduct: never raise or carry one near overhead power lines; stop in thunder. Local rules, "    \
      "the "                                                                                                 \
      "venue's rules and licensed practice come first.")                                                     \
    X(BF_NOTE_COLD_WATER, "cold-water",                                                                      \
      "Wet banks are slippery and cold water can kill, most of all when you are alone.")                     \
    X(BF_NOTE_HOOKS, "hooks",                                                                                \
      "Mind hooks near eyes. Cover cuts and wash your hands before you eat: lake water can carry "           \
      "leptospirosis.")                                                                                      \
    X(BF_NOTE_FISH_FIRST, "fish-first",                                                                      \
      "Barbless hooks where the venue says so, and no more in a net than its limit. Wet hands and mats for " \
      "the fish; in warm water with little oxygen they need it most. Clean, check and dry nets between "     \
      "waters.")                                                                                             \
    X(BF_NOTE_LIGHT_WIND, "light-wind",                                                                      \
      "Below 1.5 m/s of wind no law for the drift was fitted to measurements: take the current as a guess.") \
    X(BF_NOTE_SHORT_FETCH, "short-fetch",                                                                    \
      "With only {0:m} of water along the wind the flow turns round everywhere; the current is a guess.")    \
    X(BF_NOTE_WIND_SIDE, "wind-side",                                                                        \
      "Which way the wind blows was not given: the answer allows for every direction.")                      \
    X(BF_NOTE_FLOATS, "floats", "As described this bait is no denser than the water: it does not sink.")     \
    X(BF_NOTE_CRAWLS, "crawls",                                                                              \
      "Live bait crawls off once it is down; that is not modelled: this is where it lands.")                 \
    X(BF_NOTE_BREAKS_UP, "breaks-up",                                                                        \
      "A ball is taken as one piece to the bottom; how it breaks up there, or on the way, is not modelled.") \
    X(BF_NOTE_DRAG_LAWS, "drag-laws",                                                                        \
      "Even with size and density exact, published drag laws differ by about {0:pct} in speed for this "     \
      "shape.")                                                                                              \
    X(BF_NOTE_ONE_PIECE, "one-piece",                                                                        \
      "This is for pieces falling alone; a full pot tipped at once goes down as a cloud at first.")          \
    X(BF_NOTE_MAY_HANG, "may-hang",                                                                          \
      "Dry pieces may hang on the surface film before they sink; that time is not counted. Wet them first.") \
    X(BF_NOTE_PUNCHES, "punches",                                                                            \
      "By this model dry pieces hit the surface hard enough to go through its film; that has not been "      \
      "tested on feed, and some may hang: wet them first.")                                                  \
    X(BF_NOTE_TIME_A_DROP, "time-a-drop",                                                                    \
      "Most of this range is the density: time some pieces down a known depth to narrow it.")                \
    X(BF_NOTE_TEMPERATURE, "temperature",                                                                    \
      "The water's temperature was not given; cold water slows small pieces most.")                          \
    X(BF_NOTE_MEASURE_THROW, "measure-throw",                                                                \
      "How hard and how high a catapult throws differs from angler to angler: measure a few throws.")        \
    X(BF_NOTE_THROW_OFF_SPOT, "throw-off-spot",                                                              \
      "Thrown as described the feed comes down about {0:m} out; the spot is {1:m} out.")                     \
    X(BF_NOTE_HANGING, "hanging",                                                                            \
      "Of dry pieces {0:pct} to {1:pct} may hang on the surface film and drift off: wet them first. How "    \
      "easily feed hangs has not been measured.")                                                            \
    X(BF_NOTE_AFLOAT, "afloat",                                                                              \
      "Up to {0:pct} of the pieces are lighter than water in these estimates and float off.")                \
    X(BF_NOTE_ROLLING, "rolling",                                                                            \
      "On a slope this steep pieces may roll on after landing; that is not modelled.")                       \
    X(BF_NOTE_WARM_LAYER, "warm-layer",                                                                      \
      "From about {0:c} a warm layer may slide over colder water in still weather; that is not modelled, "   \
      "and the current below it may be weaker and turned.")                                                  \
    X(BF_NOTE_POT_NOT_COUNTED, "pot-not-counted",                                                            \
      "Count what one level pot holds of any bait, and weigh the water that fills it: that fixes the pot, "  \
      "and every other count gets better.")                                                                  \
    X(BF_NOTE_POT_PRACTICE, "pot-practice",                                                                  \
      "Common practice, with no source, says {0:n} to {1:n} of these; geometry gives about {2:n}. They "     \
      "disagree, and this answer is geometry: count yours.")                                                 \
    X(BF_NOTE_LABEL_SIZES, "label-sizes",                                                                    \
      "Pellets run up to a third bigger than their label, and the number goes with the size cubed: lay ten " \
      "in a row and measure.")                                                                               \
    X(BF_NOTE_POT_NARROW, "pot-narrow",                                                                      \
      "The pot is only {0:n} pieces wide, so they stack in one file: counts by geometry, give or take one.") \
    X(BF_NOTE_POT_TOO_NARROW, "pot-too-narrow", "A piece of {0:mm} does not go into a mouth of {1:mm}.")     \
    X(BF_NOTE_POT_HEAP, "pot-heap",                                                                          \
      "A heap cannot stand that high on this mouth: counted as {0:pct} of the level.")                       \
    X(BF_NOTE_NO_UPTAKE, "no-uptake", "How this bait takes up water is not modelled.")                       \
    X(BF_NOTE_NO_FEED_CONSTANTS, "no-feed-constants",                                                        \
      "No published soaking constants for fish feed were found; these come from grains and legumes. Weigh "  \
      "one soak to do better.")                                                                              \
    X(BF_NOTE_CLINGING_WATER, "clinging-water",                                                              \
      "Water that clings outside is not counted: unblotted, a small pellet can weigh a third more than it "  \
      "took up.")                                                                                            \
    X(BF_NOTE_FEED_TOO_LATE, "feed-too-late",                                                                \
      "This begins {0:min} after the start, when the session of {1:min} is over: it never goes in.")         \
    X(BF_NOTE_FEED_GOES_ON, "feed-goes-on",                                                                  \
      "Its last put-in is {0:min} after the start; the session is over after {1:min}.")                      \
    X(BF_NOTE_POT_TOO_SMALL, "pot-too-small", "The pot holds about {0:n}, and {1:n} are to go in at once.")  \
    X(BF_NOTE_POLE_SHORT, "pole-short", "The farthest spot lies {0:m} beyond the end of the pole.")          \
    X(BF_NOTE_NOT_MODELLED, "not-modelled",                                                                  \
      "Not modelled: fishing in mid-water, fish that eat the feed, other anglers, weed.")                    \
    X(BF_NOTE_HOOK_AS_FED, "hook-as-fed",                                                                    \
      "No hook bait was said: what is fed is taken to be on the hook too.")                                  \
    X(BF_NOTE_RULES_OF_THUMB, "rules-of-thumb",                                                              \
      "Where to fish and how to begin are rules of thumb and the plan's own; which rig holds is computed.")  \
    X(BF_NOTE_AIM_FIT, "aim-fit",                                                                            \
      "Where the rig hangs was worked out {0:n} times and read off between: right to {1:mm} 19 times in "    \
      "20.")                                                                                                 \
    X(BF_NOTE_AIM_FIT_ROUGH, "aim-fit-rough",                                                                \
      "At times a hair decides where the rig hangs: line that is slack can lie in two ways, or the bait is " \
      "just held or just dragged off. What was read off between is right to {0:cm} 19 times in 20.")         \
    X(BF_NOTE_AIM_NO_BALANCE, "aim-no-balance",                                                              \
      "In {0:n} of {1:n} conditions tried the rig found no balance, such as a float that goes under: cases " \
      "like them are left out.")                                                                             \
    X(BF_NOTE_AIM_FOLLOWS, "aim-follows",                                                                    \
      "The bait is taken to follow every move of the pole tip; one that lies on the bottom follows less.")   \
    X(BF_NOTE_AIM_ONE_PUT_IN, "aim-one-put-in",                                                              \
      "The bed is this one put-in: feed that lay there before is not counted, nor what fish have eaten or "  \
      "moved.")                                                                                              \
    X(BF_NOTE_AIM_CLEARLY_OFF, "aim-clearly-off",                                                            \
      "Half the drops come down {0:cm} or more from the middle of the bed; from 15 to 25 cm on that is "     \
      "clearly off it (common practice, no source).")                                                        \
    X(BF_NOTE_LAY_WAIT, "lay-wait",                                                                          \
      "Start to lower {0:s} after the put-in: nine times in ten the bait, {1:s} on its way, then comes "     \
      "down "                                                                                                \
      "on feed that lies.")                                                                                  \
    X(BF_NOTE_LAY_AT_ONCE, "lay-at-once",                                                                    \
      "Lower at once: the feed is down within {0:s}, and the bait takes {1:s} or more.")                     \
    X(BF_NOTE_LAY_PRACTICE, "lay-practice",                                                                  \
      "Many hold the float out of the water until the feed has settled, here {0:s}, then lower slowly onto " \
      "it and keep still (common practice, no source): later than this wait, and safer.")                    \
    X(BF_NOTE_LAY_DRAWN, "lay-drawn", "After it is down line and drift still move the bait for {0:s}.")      \
    X(BF_NOTE_LAY_UNTIMED, "lay-untimed",                                                                    \
      "No timed rigs were found to hold this against: time one of yours with a watch.")                      \
    X(BF_NOTE_RIG_UNPROVED, "rig-unproved",                                                                  \
      "No measured rigs were found to hold this against, and what the bottom holds is judgement: watch "     \
      "where yours comes to rest.")                                                                          \
    X(BF_NOTE_RIG_HANGS, "rig-hangs",                                                                        \
      "The bait hangs clear of the bottom, so the rig drifts until its line to the tip stops it. That "      \
      "takes "                                                                                               \
      "a while: at first it is nearer.")                                                                     \
    X(BF_NOTE_RIG_DRAGGED, "rig-dragged",                                                                    \
      "The bottom does not hold this bait: wind and drift drag it until it is {0:cm} off. A shorter line "   \
      "above the float, or more line on the bottom, holds better.")                                          \
    X(BF_NOTE_RIG_LIFTED, "rig-lifted",                                                                      \
      "The line from the tip carries the float: lower the tip, or give it more line.")                       \
    X(BF_NOTE_RIG_UNDER, "rig-under",                                                                        \
      "As it is shotted the float goes under, by the load of {0:mm} of bristle: take shot off.")             \
    X(BF_NOTE_RIG_HIGH, "rig-high",                                                                          \
      "The float rides so high that its body shows: all of its bristle is {0:mm}. A heavier float with its " \
      "shot, or a back shot, holds it down.")                                                                \
    X(BF_NOTE_RIG_MAY_RIDE_HIGH, "rig-may-ride-high",                                                        \
      "What is not known may let the float ride so high that its body shows: all of its bristle is {0:mm}.") \
    X(BF_NOTE_WEIGH_WATER, "weigh-water",                                                                    \
      "A count alone cannot tell a larger pot from smaller pieces: weigh the water that fills the pot as "   \
      "well, and both become known.")                                                                        \
    X(BF_NOTE_ACTING_DENSITY, "acting-density",                                                              \
      "This density is how the bait falls by the published drag law; since that law is uncertain itself, "   \
      "the real density may lie anywhere from {0:n} to {1:n} kg/m3.")                                        \
    X(BF_NOTE_LEAD_SHOT, "lead-shot",                                                                        \
      "Lead shot over 0.06 g here: published limits for Great Britain let lead be used only up to 0.06 g "   \
      "(No 8) or over 28.35 g. Local law comes first.")                                                      \
    X(BF_NOTE_BRISTLE_BAND, "bristle-band",                                                                  \
      "Dotted down is a band: the water's skin on the bristle can change what shows by {0:mm}, more than "   \
      "the {1:mm} of a No 13 shot.")                                                                         \
    X(BF_NOTE_FLOAT_UNTRIED, "float-untried",                                                                \
      "What the float takes is its printed rating, from memory often 5 to 20 % wrong: try it in a tube.")    \
    X(BF_NOTE_LINE_UNTRIED, "line-untried",                                                                  \
      "What the lines hold is estimated from their diameter, give or take a third: break some, wet and "     \
      "knotted.")                                                                                            \
    X(BF_NOTE_ELASTIC_UNTRIED, "elastic-untried",                                                            \
      "What the elastic pulls is estimated from published rubber, give or take a quarter: hang weights on "  \
      "it.")                                                                                                 \
    X(BF_NOTE_WEIGH_SHOT, "weigh-shot",                                                                      \
      "Shot of a trade size differ by 10 to 25 %: weigh what the float took, and its capacity is known "     \
      "closely.")                                                                                            \
    X(BF_NOTE_SHOT_MASS, "shot-mass",                                                                        \
      "One {0:shot} of these weighs {1:g}, give or take {2:g}; other sizes of the make are taken to be off " \
      "alike.")                                                                                              \
    X(BF_NOTE_WEIGH_MORE, "weigh-more",                                                                      \
      "The scales tell one shot only within {0:pct}: weigh more of them together, or on finer scales.")      \
    X(BF_NOTE_AIM_SCATTER, "aim-scatter",                                                                    \
      "By {0:n} drops two in three come down within {1:cm} to {2:cm} of their middle along the pole, 8 "     \
      "times "                                                                                               \
      "in 10: more drops narrow it.")

typedef enum bf_note_code {
#define BF_NOTE_NAME(name, slug, sentence) name,
    BF_NOTE_LIST(BF_NOTE_NAME)
#undef BF_NOTE_NAME
        BF_N_NOTES
} bf_note_code;

typedef struct bf_note {
    bf_note_code code;
    double number[3];
} bf_note;

#define BF_MOST_NOTES 16

/* What stands before every session, power lines first. */
#define BF_N_CAUTIONS 4
extern const bf_note_code bf_cautions[BF_N_CAUTIONS];

const char *bf_note_slug(bf_note_code code);
const char *bf_note_sentence(bf_note_code code);

#ifdef __cplusplus
}
#endif
#endif
