/* suggest.h -- which float, shot, pot and back shots hold at a spot, by computation; each with its runner-up and why not.
 *
 * Pure arithmetic; no allocation. Every candidate is solved as rig.h has it; nothing is looked up. An estimate is no better
 * than that model, and the limits below are for the most part judgement: they are what "holds" means here, no more.
 * Model: docs/models/suggest.md. Tests: tests/plan/suggest_test.c
 */
#ifndef BAITFALL_SUGGEST_H
#define BAITFALL_SUGGEST_H

#include "baitfall/lay.h"
#include "baitfall/pattern.h"
#include "baitfall/stand.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Limits: what it takes to say that a rig holds ----------------------------------------------------------- */

/* The hook bait lies at most this far from the point under the tip. Common practice, no source: bait 15 to 25 cm off the
 * feed is clearly off it; two thirds of the nearer end are left to the rig, the rest to feed and aim (judgement). */
#define BF_HANG_MOST_M 0.10

/* A gust moves it at most this far: as far as feed still counts as lying at the bait (aim.h's 5 cm). */
#define BF_GUST_MOST_M 0.05

/* Of the bristle (the middle of the meniscus' band) at least so much shows, in gusts as well: less, and the band alone can
 * drown it (judgement). And at most the whole bristle: above it a bite has to lift the body, which hardly moves. */
#define BF_BRISTLE_LEAST_M 0.0005

/* What the lifting of the lowest shot moves the bristle by is seen from the bank: at least this angle, a minute of arc,
 * which normal sight resolves (memory), over the spot's distance. At 11.5 m that is 3.3 mm. */
#define BF_SEEN_RAD 2.908882e-4

/* All is asked at the inputs as given and at both ends of the wind's central 80 %, of which now the one, now the other is
 * the unfavourable: its 10 and 90 % points, uniform over the usual range when the wind is not known. */
#define BF_WIND_LOW_P 0.1
#define BF_WIND_HIGH_P 0.9

/* What can keep a rig from holding. */
typedef enum bf_limit {
    BF_LIMIT_NONE,    /* it holds                                                             */
    BF_LIMIT_SOLVED,  /* no equilibrium, as the solver says: pulled under, line too short     */
    BF_LIMIT_LIFTED,  /* the line from the tip carries the float                              */
    BF_LIMIT_HIGH,    /* rides so high that its body shows                                   */
    BF_LIMIT_DROWNED, /* shows less than BF_BRISTLE_LEAST_M                                   */
    BF_LIMIT_BITE,    /* a bite does not show                                                 */
    BF_LIMIT_HANG,    /* hangs too far off                                                    */
    BF_LIMIT_GUST,    /* a gust moves it too far                                              */
    BF_N_LIMITS
} bf_limit;

/* One rig judged. NaN where the solver had no answer. */
typedef struct bf_judged {
    int limit;             /* bf_limit: the worst broken one, BF_LIMIT_NONE when it holds                 */
    int in_wind;           /* where that is: 0 inputs as given, 1 high, 2 low end of the wind             */
    double miss_frac;      /* how far the worst limit is used: 1 just holds, 1.4 is 40 % over; infinite when
                            * lifted or unsolved. Of the bristle: by its own length                       */
    double hang_m;         /* bait against the point under the tip, at the inputs as given                */
    double gust_m;         /* how far a gust moves it, at the inputs as given                             */
    double worst_hang_m;   /* the largest over the winds judged                                           */
    double worst_gust_m;   /* likewise                                                                    */
    double worst_wind_m_s; /* the wind of worst_hang_m                                                    */
    double bristle_m;      /* the least that shows, gusts included                                        */
    double bite_m;         /* bristle that rises when the lowest shot is lifted                           */
    double seen_m;         /* what can be seen at that distance: bite_m must not be less                  */
} bf_judged;

/* Judges the rig of a settled stand in all its winds: up to six solves.
 *
 * bite_m   weight in water of one of the lowest shot / what a metre more of bristle carries, at most the bristle
 * gust_m   the gust starts from where the bait rests in the mean wind
 *
 * Returns BF_OK also when the rig does not hold; another status only for what is wrong with the stand itself, and
 * *judged is then NaN with limit BF_LIMIT_SOLVED. */
BF_CHECK bf_status bf_judge(const bf_stand *stand, bf_judged *judged);

/* Sentences ---------------------------------------------------------------------------------------------- */

/* A sentence with up to four numbers: as note.h, {0:m} {0:mm} {0:cm} {0:s} {0:n} {0:pct}, and besides {0:g} a
 * mass in grams, {0:m_s} a speed, {0:tenths} a part as "3 times", of ten, {0:count} a number as a word, {0:pattern} a word of bf_pattern_words, {0:shot} the
 * word of bf_shot_sizes[n], {0:pot} the name of the n-th pot that was offered. */
#define BF_SAID_LIST(X)                                                                                      \
    X(BF_SAID_NOTHING, "")                                                                                   \
    /* float */                                                                                              \
    X(BF_SAID_FLOAT, "{0:g}")                                                                                \
    X(BF_SAID_YOURS, "yours, {0:g}")                                                                         \
    X(BF_SAID_NEAREST, "{0:g} comes nearest")                                                                \
    X(BF_SAID_YOURS_NEAREST, "yours, {0:g}, comes nearest")                                                  \
    X(BF_SAID_LIGHTEST,                                                                                      \
      "The lightest that holds: the bait hangs {0:cm} off, {1:cm} in {2:m_s} of wind, and a gust "           \
      "moves it {3:cm}.")                                                                                    \
    X(BF_SAID_YOURS_HOLDS,                                                                                   \
      "Yours holds: the bait hangs {0:cm} off, {1:cm} in {2:m_s} of wind, and a gust moves it "              \
      "{3:cm}.")                                                                                             \
    X(BF_SAID_LIGHTEST_BACK, "None holds without back shots; with them this is the lightest: the bait "      \
                             "hangs {0:cm} off, {1:cm} in {2:m_s} of wind, and a gust moves it {3:cm}.")     \
    X(BF_SAID_LIGHTEST_SHORT, "None holds on so slack a line; with {3:cm} from tip to float this is the "    \
                              "lightest: the bait hangs {0:cm} off, {1:cm} in {2:m_s} of wind.")             \
    X(BF_SAID_YOURS_HOLDS_BACK, "Yours holds with back shots on: the bait hangs {0:cm} off, {1:cm} in "      \
                                "{2:m_s} of wind, and a gust moves it {3:cm}.")                              \
    X(BF_SAID_YOURS_FAILS,                                                                                   \
      "Yours does not hold; this hangs {0:cm} off, {1:cm} in {2:m_s} of wind, and a gust moves "             \
      "it {3:cm}.")                                                                                          \
    X(BF_SAID_NO_FLOAT_HANG, "None of the floats holds here. The nearest miss hangs {0:cm} off in {2:m_s} "  \
                             "of wind; more than {1:cm} is too far.")                                        \
    X(BF_SAID_NO_FLOAT_GUST, "None of the floats holds here. The nearest miss is moved {0:cm} by a gust on " \
                             "{2:m_s} of wind; more than {1:cm} is too far.")                                \
    X(BF_SAID_NO_FLOAT_BITE, "None of the floats shows a bite here. Lifting its lowest shot moves the "      \
                             "nearest miss {0:mm}; at this distance {1:mm} is needed to see it.")            \
    X(BF_SAID_NO_FLOAT_HIGH, "None of the floats holds here. Even the nearest miss rides so high in "        \
                             "{2:m_s} of wind or its gusts that its body shows.")                            \
    X(BF_SAID_NO_FLOAT_DROWNED,                                                                              \
      "None of the floats holds here. Even the nearest miss goes under in {2:m_s} of wind or its gusts.")    \
    X(BF_SAID_NO_FLOAT_STANDS, "None of the floats stands here in {2:m_s} of wind: held up by the line "     \
                               "from the tip, or pulled under.")                                             \
    /* why not the other */                                                                                  \
    X(BF_SAID_WHY_HANG, "The bait would hang {0:cm} off in {2:m_s} of wind; more than {1:cm} is too far.")   \
    X(BF_SAID_WHY_GUST,                                                                                      \
      "A gust on {2:m_s} of wind would move the bait {0:cm}; more than {1:cm} is too far.")                  \
    X(BF_SAID_WHY_LIFTED, "In {2:m_s} of wind or its gusts the line from the tip carries it.")               \
    X(BF_SAID_WHY_HIGH, "In {2:m_s} of wind or its gusts it rides so high that its body shows.")             \
    X(BF_SAID_WHY_HIGH_CALM, "It rides so high that its body shows, with hook and bait on the bottom.")      \
    X(BF_SAID_WHY_DROWNED, "In {2:m_s} of wind or its gusts the bristle goes under.")                        \
    X(BF_SAID_WHY_BITE,                                                                                      \
      "Lifting its lowest shot moves the bristle {0:mm}; at this distance {1:mm} is needed to see it.")      \
    X(BF_SAID_WHY_UNSOLVED,                                                                                  \
      "In {2:m_s} of wind it finds no balance: pulled under, or the line is too short.")                     \
    X(BF_SAID_WHY_HEAVIER,                                                                                   \
      "Holds too, but is heavier for nothing: the bait would hang {0:cm} off instead of {1:cm}.")            \
    X(BF_SAID_WHY_AS_HEAVY, "As heavy, shotted anew: the bait would hang {0:cm} off instead of {1:cm}.")     \
    X(BF_SAID_LIGHTER_HOLDS,                                                                                 \
      "Lighter, and holds as well: the bait would hang {0:cm} off instead of {1:cm}; yours holds as it is.") \
    X(BF_SAID_STEADIER,                                                                                      \
      "Steadier: a gust would move the bait {2:cm} instead of {3:cm}, and it would hang {0:cm} off "         \
      "instead of {1:cm}.")                                                                                  \
    /* shot */                                                                                               \
    X(BF_SAID_PATTERN, "{0:pattern}")                                                                        \
    X(BF_SAID_YOUR_SHOT, "as yours is")                                                                      \
    X(BF_SAID_HANGS_LEAST, "Of the patterns that hold it hangs least far off: {0:cm} in {1:m_s} of wind.")   \
    X(BF_SAID_SHOT_MISSES_LEAST,                                                                             \
      "Of the patterns it comes nearest to holding: {0:cm} off in {1:m_s} of wind.")                         \
    X(BF_SAID_SHOT_NO_MATTER, "With no pattern does it find a balance.")                                     \
    X(BF_SAID_YOUR_SHOT_HOLDS, "It holds: {0:cm} off in {1:m_s} of wind.")                                   \
    X(BF_SAID_WHY_FURTHER, "Holds too, but hangs {0:cm} off instead of {1:cm}.")                             \
    X(BF_SAID_WHY_SAME, "As good: the bait would hang {0:cm} off as well.")                                  \
    X(BF_SAID_WHY_NEARER, "Would hang {0:cm} off instead of {1:cm}; yours holds as it is.")                  \
    /* pot */                                                                                                \
    X(BF_SAID_POT, "{0:pot}")                                                                                \
    X(BF_SAID_POT_ANY, "any")                                                                                \
    X(BF_SAID_POT_NONE, "none")                                                                              \
    X(BF_SAID_POT_COVERS,                                                                                    \
      "The smallest that holds {0:n}: about {1:n}, and at least {2:n} nine times in ten.")                   \
    X(BF_SAID_POT_NEAREST,                                                                                   \
      "None holds {0:n} nine times in ten; the largest holds about {1:n}, at least {2:n}.")                  \
    X(BF_SAID_POT_FULL, "The put-in is a potful, so every pot covers it.")                                   \
    X(BF_SAID_POT_UNUSED, "The feed does not go in by pot.")                                                 \
    X(BF_SAID_POT_NO_FIT, "The pieces do not go into any of the pots.")                                      \
    X(BF_SAID_WHY_POT_SMALL, "Holds about {1:n} and may hold only {2:n}; {0:n} are to go in.")               \
    X(BF_SAID_WHY_POT_LARGE, "Covers it too, but is larger than needed: it holds about {1:n}.")              \
    /* back shots */                                                                                         \
    X(BF_SAID_NO_BACK, "none")                                                                               \
    X(BF_SAID_BACK, "{0:count} {1:shot}, {2:cm} above the float")                                            \
    X(BF_SAID_YOUR_BACK, "as yours are")                                                                     \
    X(BF_SAID_BACK_WORTH, "In the worst wind asked the bait hangs {0:cm} off with them and {1:cm} without.") \
    X(BF_SAID_BACK_NEEDED, "With them the bait hangs {0:cm} off; without them the rig does not hold.")       \
    X(BF_SAID_BACK_NO_HELP, "With any of them the rig does not hold.")                                       \
    X(BF_SAID_BACK_NEARER, "With them the rig comes nearer to holding.")                                     \
    X(BF_SAID_BACK_NO_NEED, "Without any the bait hangs plumb.")                                             \
    X(BF_SAID_BACK_TOO_HEAVY, "Any back shot would be too heavy for this float.")                            \
    X(BF_SAID_BACK_NOT_WORTH,                                                                                \
      "None is worth its weight: the best would bring the bait from {1:cm} to {0:cm}.")                      \
    X(BF_SAID_BACK_AS_GOOD,                                                                                  \
      "None is worth its weight: with the best the bait would hang {0:cm} off as well.")                     \
    X(BF_SAID_WHY_BACK_LESS, "Would leave it hanging {0:cm} off instead of {1:cm}.")                         \
    X(BF_SAID_WHY_BACK_MORE, "Would bring it to {0:cm} instead of {1:cm}: too little for its weight.")       \
    /* lay-in */                                                                                             \
    X(BF_SAID_LAY, "{0:s} after the feed")                                                                   \
    X(BF_SAID_LAY_NOW, "at once")                                                                            \
    X(BF_SAID_LAY_BECAUSE, "Nine pieces in ten are down after {0:s}; the rig takes {1:s} to get down.")      \
    X(BF_SAID_LAY_UPRIGHT, "lowered upright")                                                                \
    X(BF_SAID_LAY_FLAT, "laid out flat")                                                                     \
    X(BF_SAID_WHY_NOT_THAT_WAY,                                                                              \
      "The bait would be down after {0:s} instead of {1:s}, {2:cm} off instead of {3:cm}.")                  \
    X(BF_SAID_LAY_NOT_KNOWN, "not known")                                                                    \
    X(BF_SAID_LAY_UNKNOWN, "When to lower could not be worked out.")                                         \
    /* rig sets (rigset.h) */                                                                                \
    X(BF_SAID_COVERS, "{0:m} to {1:m} deep, wind {2:m_s} to {3:m_s}")                                        \
    X(BF_SAID_NEEDED, "needed about {0:tenths} in 10")                                                       \
    X(BF_SAID_NEEDED_RARELY, "needed less than once in 10")                                                  \
    X(BF_SAID_ALL_COVERED, "These rigs hold in every depth and wind of the range that was tried.")           \
    X(BF_SAID_UNCOVERED, "Not covered: {0:pct} of the range, {1:m} to {2:m} deep in winds from {3:m_s}.")    \
    X(BF_SAID_NO_RIG_THERE, "In {0:pct} of the range no rig of the catalogue holds at all.")                 \
    X(BF_SAID_GREEDY, "Whether fewer rigs would do was not settled; at least {0:n} are needed.")             \
    /* what if (whatif.h) */                                                                                 \
    X(BF_SAID_WHATIF_HOLDS,                                                                                  \
      "The bait hangs {1:cm} off ({0:cm} before), and a gust moves it {3:cm} ({2:cm} before).")              \
    X(BF_SAID_WHATIF_TAKE,                                                                                   \
      "The bait hangs {1:cm} off ({0:cm} before), and a gust moves it {2:cm}; take the {3:g} float.")        \
    X(BF_SAID_WHATIF_FAILS,                                                                                  \
      "The bait hangs {1:cm} off ({0:cm} before), and a gust moves it {2:cm}; none of the floats holds "     \
      "then.")                                                                                               \
    X(BF_SAID_WHATIF_HOLDS_NOT,                                                                              \
      "The bait hangs {1:cm} off ({0:cm} before), and a gust moves it {2:cm}; the rig does not hold then.")  \
    X(BF_SAID_WHATIF_SAME, "As before: the bait hangs {1:cm} off, and a gust moves it {3:cm}.")              \
    X(BF_SAID_WHATIF_STILL_NOT,                                                                              \
      "The bait hangs {1:cm} off ({0:cm} before), and a gust moves it {2:cm}; the rig does not hold then "   \
      "either.")                                                                                             \
    X(BF_SAID_WHATIF_NONE, "Then the rig finds no balance: lifted by its line, or pulled under.")

typedef enum bf_said_code {
#define BF_SAID_NAME(name, sentence) name,
    BF_SAID_LIST(BF_SAID_NAME)
#undef BF_SAID_NAME
        BF_N_SAIDS
} bf_said_code;

typedef struct bf_said {
    int code; /* bf_said_code; BF_SAID_NOTHING: nothing to say */
    double number[4];
} bf_said;

const char *bf_said_sentence(int code);

/* What keeps a judged rig from holding (limit not BF_LIMIT_NONE), in which of its stand's winds. Of the stand only the wind is
 * read. */
bf_said bf_why_it_fails(const bf_stand *stand, const bf_judged *judged);

/* Suggestions -------------------------------------------------------------------------------------------- */

/* What is suggested: indices of bf_suggestion.item. */
typedef enum bf_suggest_what {
    BF_SUGGEST_FLOAT,
    BF_SUGGEST_SHOT,
    BF_SUGGEST_POT,
    BF_SUGGEST_BACK_SHOTS,
    BF_SUGGEST_LAY_IN,
    BF_N_SUGGESTS
} bf_suggest_what;
extern const char *const bf_suggest_words[]; /* "float" "shot" "pot" "back shots" "lay-in" */

/* One choice with its runner-up, as sentences. */
typedef struct bf_suggested {
    /* float: index into bf_floats; shot: bf_pattern; pot: of those offered; back shots: index into bf_back_choices; lay-in:
     * hold.lowering; -1: none, or the angler's own. */
    int choice, runner_up;
    bf_said choose, because; /* never empty                                       */
    bf_said other, why_not;  /* code BF_SAID_NOTHING when there is no runner-up   */
} bf_suggested;

/* Back shots that are tried: `count` of a size, the lowest at above_m, touching each other. */
typedef struct bf_back_choice {
    int count;
    const char *size; /* word of bf_shot_sizes */
    double above_m;
} bf_back_choice;
extern const bf_back_choice bf_back_choices[];
extern const int bf_n_back_choices;

/* What back shots must gain in the worst wind's hang for their mass: 8 mm for a No 10, which is one more thing to tangle
 * and takes that much from what the float carries (judgement). */
#define BF_BACK_GAIN_M_PER_KG 200.0

/* Back shots weigh at most this part of the float's rating: light enough not to drag the float (trade, memory: two or three
 * of No 9 to 12; the third is judgement). */
#define BF_BACK_MOST_FRAC 0.33

/* Slack of a line from tip to float that is made short: so much longer than the tip is high, for the float to bob and dip
 * (judgement). It is tried when the rig is not said and nothing holds on the stand's line. */
#define BF_SHORT_SLACK_M 0.10

/* Candidates closer than this are called equal: no one sets a rig to less. */
#define BF_SAME_M 0.001

#define BF_SUGGEST_POTS 8

/* What goes with a stand. */
typedef struct bf_suggest_ask {
    int has_rig; /* 1: stand.rig is the angler's own; 0: only its lines, hook, elastic and tip_to_float_m are read */
    int n_pots; /* of pot[]; 0: the catalogue's bf_pots */
    bf_pot pot[BF_SUGGEST_POTS];
} bf_suggest_ask;

typedef struct bf_suggestion {
    int holds;       /* 1: `rig` is within all limits; 0: it is the nearest miss          */
    int is_own;      /* 1: `rig` is the angler's own                                      */
    int is_as_it_is; /* 1: ... with its own shot and back shots                      */
    bf_rig
        rig; /* settled and shotted; back shots put on when they are worth it, the line shortened when need be */
    bf_judged judged; /* of rig                                                       */
    bf_judged own;    /* of the angler's own as it is; limit BF_LIMIT_SOLVED and NaN when there is none */
    bf_suggested item[BF_N_SUGGESTS];
    int n_solves; /* rigs solved, for benches */
} bf_suggestion;

/* One candidate tried, as numbers. */
typedef struct bf_suggest_tried {
    double status;             /* a bf_status                                                         */
    double flt, pattern, back; /* indices; -1: as the own rig has it                                  */
    double rating_kg, price_m; /* of the float; worst hang and what back shots must gain              */
    double n_solves;
    bf_judged judged;
} bf_suggest_tried;

/* Candidates when the stand has the angler's own rig: 0 what the catalogue offers, 1 the own rig as it is, then in each pattern,
 * then with each of bf_back_choices. */
#define BF_SUGGEST_BACKS 5
#define BF_SUGGEST_TRIES (2 + BF_N_PATTERNS + BF_SUGGEST_BACKS)

/* Tries candidate k, 0 <= k < BF_SUGGEST_TRIES; one that is not asked about stays unjudged. */
void bf_suggest_try(const bf_stand *stand, int k, bf_suggest_tried *tried);

/* Puts float i_float of the catalogue on the stand's lines, shotted by pattern, without back shots. Lead is the metal,
 * or that of the stand's first shot when it has any. Returns BF_E_MODEL_RANGE when the pattern puts no shot on. */
BF_CHECK bf_status bf_suggest_rig(const bf_stand *stand, int i_float, int pattern, bf_rig *rig);

/* The suggestions for one settled stand.
 *
 * float, shot  The lightest float of the catalogue with which some pattern holds; of its patterns the one that hangs least
 *              far off in the worst of the winds (less than BF_SAME_M: the earlier of bf_pattern). First bare; when none
 *              holds, each with the most back shots it may bear; when none holds and the rig is not said, that again
 *              on a line of BF_SHORT_SLACK_M slack. None holds: the rig of the smallest miss_frac, at the first limit that it
 *              breaks, asked in the order high wind, as given, low wind. Runner-up: the next lighter float, at the lightest
 *              the next heavier; the next best pattern.
 * own rig      It is kept when it holds as it is or with other back shots, or when nothing holds and it comes nearer; the
 *              runner-up is then what the catalogue offers.
 * back shots   Of bf_back_choices the one with the smallest hang in the worst wind + BF_BACK_GAIN_M_PER_KG x mass.
 * pot          The smallest that holds the put-in at least nine times in ten: pieces at the inputs as given, less the loss of
 *              each input at its own 10 % point, added as squares.
 * lay-in       bf_lay_model at the inputs as given, for hold.lowering; the runner-up is the other way of lowering.
 *
 * stand        settled; with has_rig 0 its rig's float and shot are not read
 * Returns BF_OK also when nothing holds (`holds` is 0 and the sentences say so); the status of bf_judge when the stand
 * itself cannot be answered, BF_E_MODEL_RANGE when there is no line from float to hook; *out then has no sentences.
 * Cost      20 to 200 solves and two of lay.h.
 * Example   1.62 m at 11.5 m, the middle start rig's lines, a hard 6 mm pellet, no wind: 0.2 g in a bulk, no back shots; with
 *           0.15 g hook and bait on the bottom leave its body showing. */
BF_CHECK bf_status bf_suggest(const bf_stand *stand, const bf_suggest_ask *ask, bf_suggestion *out);

/* The same by parts, of which the slow ones may be done side by side: all but the lay-in, whose item then says nothing; the lay
 * model at the inputs as given, for a stand with the rig that is suggested (NaN: no answer); and the item, from what that comes to
 * for the way of lowering that is meant and for the other one.
 *
 * tried   (BF_SUGGEST_TRIES, row k from bf_suggest_try(stand, k)) with has_rig 1: what is tried of the own rig is taken from
 *         there, and of the catalogue as well when the own rig holds; the same bytes come out. NULL: all is tried here */
BF_CHECK bf_status bf_suggest_tackle(const bf_stand *stand, const bf_suggest_ask *ask,
                                     const bf_suggest_tried *tried, bf_suggestion *out);
void bf_suggest_way(const bf_stand *stand, int lowering, bf_lay_out *out);
bf_suggested bf_suggest_lay_in(int lowering, const bf_lay_out *is, const bf_lay_out *other);

#ifdef __cplusplus
}
#endif
#endif
