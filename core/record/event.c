/* event.c -- see baitfall/event.h. */
#include "baitfall/event.h"

#include <math.h>

#include "baitfall/choice.h"

/* ---- Words ---- */

const char *const bf_event_words[] = {
#define WORD(name, word) word,
    BF_EVENT_LIST(WORD)
#undef WORD
        NULL};

const char *const bf_outcome_words[] = {"landed", "lost", "missed", "foul", "nothing", NULL};
const char *const bf_held_words[] = {"lip_top_middle", "lip_top_side", "lip_bottom", "corner",
                                     "outside",        "body",         NULL};
const char *const bf_size_words[] = {"under_half_lb", "one_lb", "two_lb", "four_lb", NULL};
const char *const bf_eye_words[] = {"less", "right", "more", NULL};
const char *const bf_what_words[] = {"feed", "wait", "move", NULL};
const char *const bf_done_words[] = {"did", "other", "no", NULL};
static const char *const names[] = {"names", NULL};

/* ---- Fields ---- */

/* Which fields there are, so that a kind can say which it has. In the order of the table. */
typedef enum field_index {
    SPOT,
    HOOK_BAIT,
    BAIT,
    SPECIES,
    VENUE,
    PEG,
    PLAN,
    PUT,
    COUNT,
    VOLUME,
    FILL,
    POT,
    MASS,
    HOW,
    OVER,
    WIDE,
    N,
    OUTCOME,
    HELD,
    SIZE,
    GUESS,
    NET,
    NETS,
    NET_LIMIT,
    TARGET,
    HOURS,
    FROM,
    TO,
    LANDED,
    LOST,
    MISSED,
    FOUL,
    NOTHING,
    TOUCH,
    EYE,
    SHOWN,
    WHAT,
    DONE,
    ODDS,
    LOOK_AGAIN,
    DISTANCE,
    SIDE,
    DEPTH,
    BOTTOM,
    TEMP,
    WIND,
    WIND_HEIGHT,
    WIND_SIDE,
    FETCH,
    SURFACE_DRIFT,
    UNDERTOW,
    JUMP,
    AT,
    PM,
    N_FIELDS
} field_index;

#define NAME(member, help)                                                                                   \
    { #member, BF_REF, offsetof(bf_body, member), BF_PURE, 0, 0, BF_NAN, 0, 0, 0, names, help, 0 }
#define NUMBER(member, dim, least, most, help) BF_R(bf_body, member, dim, least, most, BF_NAN, help)
#define WHOLE(member, least, most, help) BF_I(bf_body, member, least, most, BF_NAN, help)
#define CHOICE(member, words, n, help) BF_W(bf_body, member, words, n, BF_NAN, help)
#define INSTANT(key, member, help)                                                                           \
    {                                                                                                        \
        key, BF_INSTANT, offsetof(bf_body, member), BF_PURE, BF_INSTANT_LEAST_MS, BF_INSTANT_MOST_MS,        \
            BF_NAN, 0, 0, 0, NULL, help, 0                                                                   \
    }
#define MOST_FISH 10000

static const bf_field fields[N_FIELDS] = {
    [SPOT] = NAME(spot, "which of the session's spots"),
    [HOOK_BAIT] = NAME(hook_bait, "what is on the hook"),
    [BAIT] = NAME(bait, "what is fed, or prepared"),
    [SPECIES] = NAME(species, "what fish it was"),
    [VENUE] = NAME(venue, "the water"),
    [PEG] = NAME(peg, "the place on its bank"),
    [PLAN] = NAME(plan, "the plan fished to"),
    [PUT] = WHOLE(put, 0, 1000000, "the same number in each bait of one put-in"),
    [COUNT] = NUMBER(count, BF_PURE, 0, 1e6, "pieces"),
    [VOLUME] = NUMBER(volume_m3, BF_VOLUME, 0, 0.1, "volume of the bait as it lies"),
    [FILL] = NUMBER(fill_frac, BF_PURE, 0, 3, "part of the pot that was full, above 1 when heaped"),
    [POT] = NUMBER(pot_m3, BF_VOLUME, 2e-7, 2e-3, "struck volume of the pot that fill_frac is a part of"),
    [MASS] = NUMBER(mass_kg, BF_MASS, 0, 1000, "by scales: of the fish, of the net, or of bait prepared"),
    [HOW] = CHOICE(how, bf_how_words, BF_N_HOWS, "clump: tipped from a pot; sprinkle: shaken out of one"),
    [OVER] = NUMBER(over_s, BF_TIME, 0, 3600, "from the first piece to the last"),
    [WIDE] = NUMBER(wide_m, BF_LENGTH, 0, 20, "diameter on the surface that holds nine pieces in ten"),
    [N] = WHOLE(n, 1, 1000, "touches; not given: one"),
    [OUTCOME] =
        CHOICE(outcome, bf_outcome_words, BF_TOUCHED, "how the drop ended; foul: hooked outside the mouth"),
    [HELD] = CHOICE(held, bf_held_words, BF_N_HELD, "where the hook had hold"),
    [SIZE] = CHOICE(size, bf_size_words, BF_N_SIZES, "a guess at the fish's weight in one tap"),
    [GUESS] = NUMBER(guess_kg, BF_MASS, 0, 100, "the angler's guess at the fish's weight"),
    [NET] = WHOLE(net, 1, BF_NETS_MOST, "which keepnet"),
    [NETS] = WHOLE(nets, 1, BF_NETS_MOST, "how many keepnets there are"),
    [NET_LIMIT] = NUMBER(net_limit_kg, BF_MASS, 0, 1000, "the most that may be in one net"),
    [TARGET] = NUMBER(target_kg, BF_MASS, 0, 1000, "the weight aimed at"),
    [HOURS] = NUMBER(hours, BF_PURE, 0, 240, "how long the session is to be"),
    [FROM] = INSTANT("from", from_ms, "where the stretch begins"),
    [TO] = INSTANT("to", to_ms, "where it ends, at most a day later"),
    [LANDED] = WHOLE(landed, 0, MOST_FISH, "fish in the stretch"),
    [LOST] = WHOLE(lost, 0, MOST_FISH, "hooked and lost in the stretch"),
    [MISSED] = WHOLE(missed, 0, MOST_FISH, "bites missed in the stretch"),
    [FOUL] = WHOLE(foul, 0, MOST_FISH, "hooked outside the mouth in the stretch"),
    [NOTHING] = WHOLE(nothing, 0, MOST_FISH, "drops without a bite in the stretch"),
    [TOUCH] = WHOLE(touch, 0, MOST_FISH, "touches in the stretch"),
    [EYE] = CHOICE(eye, bf_eye_words, BF_N_EYES, "the feed left, against what the picture shows"),
    [SHOWN] = NUMBER(shown, BF_PURE, 0, 1e6, "pieces that the picture showed as left"),
    [WHAT] = CHOICE(what, bf_what_words, BF_N_WHATS, "what was advised"),
    [DONE] = CHOICE(done, bf_done_words, BF_N_DONES, "what became of the advice"),
    [ODDS] = NUMBER(odds_frac, BF_PURE, 0, 1, "chance said of a fish landed before the next look"),
    [LOOK_AGAIN] = NUMBER(look_s, BF_TIME, 0, 86400, "the next look, from the advice on"),
    [DISTANCE] = NUMBER(distance_m, BF_LENGTH, 0, 60, "from the butt mark straight out"),
    [SIDE] = NUMBER(side_m, BF_LENGTH, -60, 60, "to the angler's right"),
    [DEPTH] = NUMBER(depth_m, BF_LENGTH, 0.05, 12, "depth as plumbed"),
    [BOTTOM] = CHOICE(bottom, bf_bottom_words, BF_N_BOTTOMS, "what the bottom is"),
    [TEMP] = NUMBER(temp_c, BF_TEMPERATURE, 0, 35, "of the water"),
    [WIND] = NUMBER(wind_m_s, BF_SPEED, 0, 20, "mean over some minutes, gusts averaged out"),
    [WIND_HEIGHT] = NUMBER(wind_height_m, BF_LENGTH, 0.5, 20, "above the water, where the wind was measured"),
    [WIND_SIDE] =
        NUMBER(wind_side_deg, BF_ANGLE, -360, 360, "where the wind blows to: 0 out, 90 to the right"),
    [FETCH] = NUMBER(fetch_m, BF_LENGTH, 5, 5000, "length of open water along the wind"),
    [SURFACE_DRIFT] = NUMBER(surface_drift_m_s, BF_SPEED, 0, 0.5, "speed of the very surface"),
    [UNDERTOW] = NUMBER(undertow_m_s, BF_SPEED, 0, 0.2, "largest speed back, below"),
    [JUMP] = NUMBER(jump_s, BF_TIME, -1e10, 1e10, "how far the wall clock had jumped, forward above 0"),
    [AT] = INSTANT("at", at_ms, "the instant it should have"),
    [PM] = NUMBER(pm_s, BF_TIME, 0, BF_EVENT_PM_MOST_S, "the give or take it should have"),
};

const bf_table bf_body_table = BF_TABLE("body", bf_body, fields);

/* ---- Which fields a kind has ---- */

#define BIT(index) ((uint64_t)1 << (index))
#define FEED_AMOUNTS (BIT(COUNT) | BIT(VOLUME) | BIT(FILL))
#define BOX_AMOUNTS (BIT(COUNT) | BIT(VOLUME) | BIT(MASS))
#define OUTCOMES (BIT(LANDED) | BIT(LOST) | BIT(MISSED) | BIT(FOUL) | BIT(NOTHING) | BIT(TOUCH))
#define ALL_FIELDS (BIT(N_FIELDS) - 1)
/* What is about putting an event right, not about an event. */
#define FIX_ONLY (BIT(AT) | BIT(PM))

uint64_t bf_event_fields(int kind) {
    switch (kind) {
    case BF_OPEN:
        return BIT(VENUE) | BIT(PEG) | BIT(PLAN) | BIT(HOOK_BAIT) | BIT(HOURS) | BIT(TARGET) | BIT(NETS) |
               BIT(NET_LIMIT);
    case BF_PLUMB: return BIT(SPOT) | BIT(DISTANCE) | BIT(SIDE) | BIT(DEPTH) | BIT(BOTTOM);
    case BF_WATER:
        return BIT(TEMP) | BIT(WIND) | BIT(WIND_HEIGHT) | BIT(WIND_SIDE) | BIT(FETCH) | BIT(SURFACE_DRIFT) |
               BIT(UNDERTOW);
    case BF_BOX: return BIT(BAIT) | BOX_AMOUNTS;
    case BF_FEED:
        return BIT(SPOT) | BIT(BAIT) | BIT(PUT) | FEED_AMOUNTS | BIT(POT) | BIT(HOW) | BIT(OVER) | BIT(WIDE);
    case BF_LOWER: return BIT(SPOT) | BIT(HOOK_BAIT);
    case BF_TOUCH: return BIT(SPOT) | BIT(N);
    case BF_LIFT:
        return BIT(SPOT) | BIT(HOOK_BAIT) | BIT(OUTCOME) | BIT(HELD) | BIT(SPECIES) | BIT(SIZE) | BIT(GUESS) |
               BIT(MASS);
    case BF_NET: return BIT(NET) | BIT(MASS);
    case BF_TALLY: return BIT(SPOT) | BIT(FROM) | BIT(TO) | OUTCOMES;
    case BF_LOOK: return BIT(SPOT) | BIT(EYE) | BIT(SHOWN);
    case BF_ADVICE:
        return BIT(SPOT) | BIT(BAIT) | BIT(COUNT) | BIT(HOW) | BIT(WHAT) | BIT(DONE) | BIT(ODDS) |
               BIT(LOOK_AGAIN);
    case BF_CLOCK: return BIT(JUMP);
    case BF_FIX: return ALL_FIELDS & ~BIT(JUMP);
    default: return 0;
    }
}

uint64_t bf_event_must(int kind) {
    switch (kind) {
    case BF_BOX:
    case BF_FEED: return BIT(BAIT);
    case BF_LIFT: return BIT(OUTCOME);
    case BF_NET: return BIT(NET);
    case BF_TALLY: return BIT(FROM) | BIT(TO);
    case BF_LOOK: return BIT(EYE);
    case BF_ADVICE: return BIT(WHAT);
    case BF_CLOCK: return BIT(JUMP);
    default: return 0;
    }
}

int bf_event_is_simulated(const bf_event *event) {
    return event->dev == 0;
}

int bf_event_is_correction(int kind) {
    return kind == BF_CROSS || kind == BF_RESTORE || kind == BF_FIX;
}

/* ---- Bodies ---- */

void bf_body_start(bf_body *body) {
    bf_record_start(&bf_body_table, body);
}

static void *member_of(bf_body *body, int i_field) {
    return (char *)body + fields[i_field].offset;
}

static const void *const_member_of(const bf_body *body, int i_field) {
    return (const char *)body + fields[i_field].offset;
}

int bf_body_has(const bf_body *body, int i_field) {
    BF_ASSERT(i_field >= 0 && i_field < N_FIELDS);
    return bf_field_is_given(&fields[i_field], const_member_of(body, i_field));
}

static uint64_t given_fields(const bf_body *body) {
    uint64_t given = 0;
    for (int i = 0; i < N_FIELDS; i++)
        if (bf_body_has(body, i)) given |= BIT(i);
    return given;
}

static int is_double(const bf_field *field) {
    return field->kind == BF_REAL || field->kind == BF_INSTANT;
}

static void copy_field(bf_body *to, const bf_body *from, int i) {
    if (is_double(&fields[i]))
        *(double *)member_of(to, i) = *(const double *)const_member_of(from, i);
    else
        *(int *)member_of(to, i) = *(const int *)const_member_of(from, i);
}

void bf_body_fix(bf_body *body, int kind, const bf_body *fix) {
    const uint64_t amounts = FEED_AMOUNTS | BOX_AMOUNTS;
    uint64_t given = given_fields(fix) & bf_event_fields(kind) & ~FIX_ONLY;
    int has_amounts = kind == BF_FEED || kind == BF_BOX;
    bf_body none;
    bf_body_start(&none);
    for (int i = 0; i < N_FIELDS; i++) {
        if (has_amounts && (given & amounts) && (amounts & BIT(i))) copy_field(body, &none, i);
        if (given & BIT(i)) copy_field(body, fix, i);
    }
}

/* ---- Checks ---- */

static bf_status check_instant(double ms) {
    if (!(ms - ms == 0)) return BF_E_NOT_FINITE;
    return ms < BF_INSTANT_LEAST_MS || ms > BF_INSTANT_MOST_MS || ms != floor(ms) ? BF_E_RANGE : BF_OK;
}

static bf_status check_number(double x, double least, double most) {
    if (!(x - x == 0)) return BF_E_NOT_FINITE;
    return x < least || x > most ? BF_E_RANGE : BF_OK;
}

static int is_none(bf_id id) {
    return !id.high && !id.low;
}

/* Everything outside the body. */
static bf_status check_envelope(const bf_event *e) {
    const int day_min = 1440;
    if (e->kind < 0 || e->kind >= BF_N_EVENT_KINDS) return BF_E_CHOICE;
    if (is_none(e->id) || is_none(e->session)) return BF_E_MISSING;
    if (bf_event_is_correction(e->kind) && is_none(e->of)) return BF_E_MISSING;
    if (!bf_event_is_correction(e->kind) && !is_none(e->of)) return BF_E_KEY;
    bf_status status = check_number(e->seq, 0, BF_SEQ_MOST);
    if (!status && e->seq != floor(e->seq)) status = BF_E_RANGE;
    if (!status && e->mono_ms == e->mono_ms) status = check_number(e->mono_ms, 0, BF_SEQ_MOST);
    if (!status) status = check_instant(e->at_ms);
    if (!status) status = check_instant(e->rec_ms);
    if (!status) status = check_number(e->at_east_min, 1 - day_min, day_min - 1);
    if (!status) status = check_number(e->rec_east_min, 1 - day_min, day_min - 1);
    if (!status) status = check_number(e->pm_s, 0, BF_EVENT_PM_MOST_S);
    return status;
}

/* The last of two or more fields out of a set, -1: fewer are given. */
static int second_of(uint64_t given, uint64_t set) {
    int n = 0, last = -1;
    for (int i = 0; i < N_FIELDS; i++)
        if (given & set & BIT(i)) {
            n++;
            last = i;
        }
    return n > 1 ? last : -1;
}

static bf_status check_amounts(int kind, uint64_t given, int *i_field) {
    if (kind == BF_FEED) *i_field = second_of(given, FEED_AMOUNTS);
    if (kind == BF_BOX) *i_field = second_of(given, BOX_AMOUNTS);
    if (kind == BF_FIX) *i_field = second_of(given, FEED_AMOUNTS);
    return *i_field >= 0 ? BF_E_TWICE : BF_OK;
}

static bf_status check_stretch(const bf_body *body, int *i_field) {
    const double day_ms = 86400000;
    if (!(body->from_ms == body->from_ms && body->to_ms == body->to_ms)) return BF_OK;
    int is_fine = body->to_ms >= body->from_ms && body->to_ms - body->from_ms <= day_ms;
    if (!is_fine) *i_field = TO;
    return is_fine ? BF_OK : BF_E_RANGE;
}

static bf_status check_body(const bf_event *e, int *i_field) {
    uint64_t has = bf_event_fields(e->kind), must = bf_event_must(e->kind), given = 0;
    for (int i = 0; i < N_FIELDS; i++) {
        double value;
        *i_field = i;
        if (!bf_body_has(&e->body, i)) {
            if (must & BIT(i)) return BF_E_MISSING;
            continue;
        }
        given |= BIT(i);
        if (!(has & BIT(i))) return BF_E_KEY;
        bf_status status = bf_field_check(&fields[i], const_member_of(&e->body, i), &value);
        if (status) return status;
    }
    *i_field = -1;
    bf_status status = check_amounts(e->kind, given, i_field);
    return status ? status : check_stretch(&e->body, i_field);
}

bf_status bf_event_check(const bf_event *event, int *i_field) {
    int where = -1;
    bf_status status = check_envelope(event);
    if (!status) status = check_body(event, &where);
    if (i_field) *i_field = where;
    return status;
}

int bf_id_order(bf_id a, bf_id b) {
    if (a.high != b.high) return a.high < b.high ? -1 : 1;
    return a.low < b.low ? -1 : a.low > b.low;
}

int bf_event_seq_order(const bf_event *a, const bf_event *b) {
    if (a->seq != b->seq) return a->seq < b->seq ? -1 : 1;
    if (a->dev != b->dev) return a->dev < b->dev ? -1 : 1;
    return bf_id_order(a->id, b->id);
}
