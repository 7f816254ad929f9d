/* season.c -- the question "season": all sessions of the journal together.
 *
 * Request    {"learned"?: summaries of sessions as "bed" gives them, "venue"?: where that counts (else the last session's),
 *             "foretold"?: scores of sessions as "foretell" gives them}
 *            ("now" is let through)
 * Answer     {"sentences":[..], "n_sessions","n_drops","n_fish", "by":{"feed":[{"what","n_sessions","n_drops","n_fish","hours",
 *            "raw_per_h","fish_per_h":{..},"p_best","text"}], "how", "water", "venue", "month", "time of day"},
 *            "next":{"bands":[{"lo_c","hi_c","middle_wait_s":{..},"n_sessions"}],"gain":{..}},
 *            "learned":{"venue","n_here","n_elsewhere","of":[{"name","what","unit","book","mid","lo","hi","sessions"}]} when the request
 *            has summaries, "foretold":{"n_sessions","over_gamma_poisson":{..},"over_weibull":{..},"verdict","uniform_p"} when it has scores, "tables", "notes"} */
#include "baitfall/season.h"

#include <math.h>
#include <string.h>

#include "baitfall/choice.h"
#include "baitfall/predict.h"
#include "core/base/room.h"
#include "text/learned.h"
#include "text/told.h"

#define LEVEL 0.8
#define N_LAST 10
#define MOST_SHARES 6000 /* a request has 8192 keys and values */

typedef struct summed {
    bfi_ask *ask;
    bf_season_table table[BF_N_SEASON_FACTORS];
    int has[BF_N_SEASON_FACTORS];
    int n_sessions, n_drops;
    double n_fish;
    bf_season_law law;
    int n_of_band[BF_N_TEMP_BANDS];
    bf_banded gain;                /* log score a session over the book's, NaN: too early */
    char venue[BF_NAME_BYTES + 1]; /* for which the swim's model learned */
    bfi_learned_from from;
    bf_swim_learned learned;
    int n_foretold; /* sessions, the last ones */
    bf_predict_session foretold[BF_SEASON_MOST_LAST];
    int n_shares;
    double share[MOST_SHARES]; /* of all of them, rising */
    bf_predict_verdict verdict;
} summed;

static const char *const factor_words[] = {
#define BFI_SEASON_WORD(name, word) word,
    BF_SEASON_FACTOR_LIST(BFI_SEASON_WORD)
#undef BFI_SEASON_WORD
};

/* ---- Words ---- */

static void put_band(bfi_pen *pen, int band) {
    double lo_c, hi_c;
    bf_temp_band_ends(band, &lo_c, &hi_c);
    if (isfinite(lo_c) && isfinite(hi_c)) {
        bfi_put_number(pen, lo_c, 0);
        bfi_put(pen, "-");
        bfi_put_number(pen, hi_c, 0);
    } else {
        bfi_put(pen, isfinite(lo_c) ? "from " : "below ");
        bfi_put_number(pen, isfinite(lo_c) ? lo_c : hi_c, 0);
    }
    bfi_put(pen, " C");
}

static void put_half(bfi_pen *pen, int half) {
    double ms = 1800000.0 * half;
    bfi_put_hours(pen, ms, ms + 1800000.0, 0);
}

static void put_what(bfi_pen *pen, const summed *s, bf_season_factor factor, int key) {
    switch (factor) {
    case BF_SEASON_HOW: bfi_put(pen, bfi_how_said[key]); break;
    case BF_SEASON_TEMP: put_band(pen, key); break;
    case BF_SEASON_MONTH: bfi_put(pen, bfi_months[key]); break;
    case BF_SEASON_HALF: put_half(pen, key); break;
    case BF_SEASON_FEED: bfi_put(pen, bf_bait_name(bf_journal_name(s->ask->journal, key))); break;
    default: bfi_put(pen, bf_journal_name(s->ask->journal, key)); break;
    }
}

static int is_enough(const bf_season_row *row) {
    return row->n_fish >= BF_LEAST_TO_SAY && row->n_sessions > 1;
}

/* "on soft two 5.1 fish an hour (4-6.3) over 6 sessions" */
static void put_row(bfi_pen *pen, const summed *s, bf_season_factor factor, const bf_season_row *row) {
    put_what(pen, s, factor, row->key);
    bfi_put(pen, ": ");
    if (!is_enough(row)) {
        bfi_put(pen, BFI_TOO_EARLY ", ");
        bfi_put_so_many(pen, row->n_fish, "fish", "fish");
    } else {
        bfi_put_estimate(pen, row->rate.rate);
        bfi_put(pen, " fish an hour");
    }
    bfi_put(pen, " over ");
    bfi_put_so_many(pen, row->n_sessions, "session", "sessions");
}

/* Rows with enough behind them; NULL: none. The best of them is the first, as rows come best first. */
static const bf_season_row *best_row(const bf_season_table *table, int *n_enough) {
    const bf_season_row *best = NULL;
    *n_enough = 0;
    for (int i = 0; i < table->n_rows; i++) {
        if (!is_enough(&table->row[i])) continue;
        if (!best) best = &table->row[i];
        ++*n_enough;
    }
    return best;
}

/* ---- Sentences ---- */

static void tell_all(const summed *s, bfi_pen *pen) {
    bfi_put_so_many(pen, s->n_sessions, "session", "sessions");
    bfi_put(pen, ", ");
    bfi_put_so_many(pen, s->n_drops, "drop", "drops");
    bfi_put(pen, ", ");
    bfi_put_so_many(pen, s->n_fish, "fish", "fish");
    bfi_put(pen, s->n_fish < BF_LEAST_TO_SAY ? ": too early to say more." : ".");
}

static void tell_best(const summed *s, bfi_pen *pen) {
    int n_enough;
    const bf_season_row *best =
        s->has[BF_SEASON_FEED] ? best_row(&s->table[BF_SEASON_FEED], &n_enough) : NULL;
    if (!best || n_enough < 2) {
        bfi_put(
            pen,
            "Too early to say which feed went with most fish: two feeds with five fish over two sessions are "
            "the least.");
        return;
    }
    bfi_put(pen, "Most fish came while feeding ");
    put_row(pen, s, BF_SEASON_FEED, best);
    bfi_put(pen, best->rate.p_best < 0.5 ? ", but only " : ", ");
    bfi_put_in_ten(pen, best->rate.p_best);
    bfi_put(pen, " that it is the best of ");
    bfi_put_number(pen, s->table[BF_SEASON_FEED].n_rows, 0);
    bfi_put(pen, ", which does not say that the feed was why.");
}

static bf_banded middle_wait(const summed *s, int band) {
    return (bf_banded){bf_season_middle_wait_s(&s->law, band, 0.5),
                       bf_season_middle_wait_s(&s->law, band, 0.1),
                       bf_season_middle_wait_s(&s->law, band, 0.9)};
}

static void tell_next(const summed *s, bfi_pen *pen) {
    if (s->law.n_sessions < BF_LEAST_TO_SAY) {
        bfi_put(pen, "Too early to say what waits to expect next time: ");
        bfi_put_so_many(pen, s->law.n_sessions, "session", "sessions");
        bfi_put(pen, " with waits.");
        return;
    }
    bfi_put(pen, "Next time expect half the waits to end by ");
    bfi_put_wait(pen, middle_wait(s, -1));
    bfi_put(pen, ", 8 days in 10, and the water's temperature narrows it.");
}

static void json_sentences(bfi_json *out, const summed *s) {
    static void (*const tell[])(const summed *, bfi_pen *) = {tell_all, tell_best, tell_next};
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    for (size_t i = 0; i < sizeof tell / sizeof tell[0]; i++) {
        bfi_told told;
        bfi_told_start(&told);
        tell[i](s, &told.pen);
        bfi_json_text(out, told.text);
    }
    bfi_json_close(out);
}

/* ---- Numbers ---- */

static void json_row(bfi_json *out, const summed *s, bf_season_factor factor, const bf_season_row *row) {
    bfi_told told;
    bf_estimate rate = row->rate.rate;
    bfi_json_object(out);
    bfi_told_start(&told);
    put_what(&told.pen, s, factor, row->key);
    bfi_json_key_text(out, "what", told.text);
    bfi_json_key_real(out, "n_sessions", row->n_sessions);
    bfi_json_key_real(out, "n_drops", row->n_drops);
    bfi_json_key_real(out, "n_fish", row->n_fish);
    bfi_json_key_real(out, "hours", row->hours);
    bfi_json_key_real(out, "raw_per_h", row->rate.raw);
    bfi_json_estimate(out, "fish_per_h", rate.mid, rate.lo, rate.hi);
    bfi_json_key_real(out, "p_best", row->rate.p_best);
    bfi_told_start(&told);
    put_row(&told.pen, s, factor, row);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void json_by(bfi_json *out, const summed *s) {
    bfi_json_key(out, "by");
    bfi_json_object(out);
    for (int f = 0; f < BF_N_SEASON_FACTORS; f++) {
        bfi_json_key(out, factor_words[f]);
        bfi_json_array(out);
        for (int i = 0; i < s->table[f].n_rows; i++)
            json_row(out, s, (bf_season_factor)f, &s->table[f].row[i]);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

static void json_next(bfi_json *out, const summed *s) {
    bfi_json_key(out, "next");
    bfi_json_object(out);
    bfi_json_key(out, "bands");
    bfi_json_array(out);
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) {
        double lo_c, hi_c;
        bf_banded wait = middle_wait(s, band);
        bf_temp_band_ends(band, &lo_c, &hi_c);
        bfi_json_object(out);
        bfi_json_key_real(out, "lo_c", lo_c);
        bfi_json_key_real(out, "hi_c", hi_c);
        bfi_json_estimate(out, "middle_wait_s", wait.value, wait.lower, wait.upper);
        bfi_json_key_real(out, "n_sessions", s->n_of_band[band]);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    bfi_json_key_real(out, "n_sessions", s->law.n_sessions);
    bfi_json_estimate(out, "gain_a_session", s->gain.value, s->gain.lower, s->gain.upper);
    bfi_json_close(out);
}

/* ---- Tables ---- */

static void finding_of(bfi_told *told, const summed *s, bf_season_factor factor) {
    int n_enough;
    const bf_season_row *best = best_row(&s->table[factor], &n_enough);
    bfi_told_start(told);
    if (!best || n_enough < 2) return;
    if (best->rate.p_best < 0.5) bfi_put(&told->pen, "Which is best is open. First comes ");
    put_what(&told->pen, s, factor, best->key);
    bfi_put(&told->pen, ": best of ");
    bfi_put_number(&told->pen, s->table[factor].n_rows, 0);
    bfi_put(&told->pen, ", ");
    bfi_put_in_ten(&told->pen, best->rate.p_best);
    bfi_put(&told->pen, " sure.");
}

static void table_of(bfi_json *out, const summed *s, bf_season_factor factor) {
    static const char *const titles[BF_N_SEASON_FACTORS] = {"While feeding", "How it went in", "Water",
                                                            "Venue",         "Month",          "Time of day"};
    const char *const heads[] = {factor_words[factor],
                                 "sessions",
                                 "drops",
                                 "fish",
                                 "an hour, as counted",
                                 "an hour, evened out (8 in 10)",
                                 "best",
                                 NULL};
    bfi_told told;
    finding_of(&told, s, factor);
    bfi_table_start(out, factor_words[factor], titles[factor], told.text, heads);
    for (int i = 0; i < s->table[factor].n_rows; i++) {
        const bf_season_row *row = &s->table[factor].row[i];
        bfi_json_array(out);
        bfi_told_start(&told);
        put_what(&told.pen, s, factor, row->key);
        bfi_cell_told(out, &told);
        bfi_cell_count(out, row->n_sessions);
        bfi_cell_count(out, row->n_drops);
        bfi_cell_count(out, row->n_fish);
        bfi_told_start(&told);
        bfi_put_figures(&told.pen, row->rate.raw, 2);
        bfi_cell_told(out, &told);
        bfi_told_start(&told);
        if (is_enough(row))
            bfi_put_estimate(&told.pen, row->rate.rate);
        else
            bfi_put(&told.pen, BFI_TOO_EARLY);
        bfi_cell_told(out, &told);
        bfi_told_start(&told);
        if (is_enough(row) && s->table[factor].n_rows > 1 && row->rate.p_best >= 0.05)
            bfi_put_in_ten(&told.pen, row->rate.p_best);
        bfi_cell_told(out, &told);
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

static void finding_next(bfi_told *told, const summed *s) {
    bfi_told_start(told);
    if (isnan(s->gain.value)) return;
    bfi_put(&told->pen, "Learned from the sessions before, this foretold the last 10 ");
    bfi_put(&told->pen, s->gain.lower > 0   ? "better than the book"
                        : s->gain.upper < 0 ? "worse than the book"
                                            : "no better and no worse than the book");
    bfi_put(&told->pen, ", by ");
    bfi_put_between(&told->pen, s->gain.value, s->gain.lower, s->gain.upper);
    bfi_put(&told->pen, " in log score a session.");
}

static void table_next(bfi_json *out, const summed *s) {
    static const char *const heads[] = {"water", "sessions", "half the waits end by (8 days in 10)", NULL};
    bfi_told told;
    finding_next(&told, s);
    bfi_table_start(out, "next", "What to expect next time", told.text, heads);
    for (int band = 0; band < BF_N_TEMP_BANDS && s->law.n_sessions >= BF_LEAST_TO_SAY; band++) {
        bfi_json_array(out);
        bfi_told_start(&told);
        put_band(&told.pen, band);
        bfi_cell_told(out, &told);
        bfi_cell_count(out, s->n_of_band[band]);
        bfi_told_start(&told);
        bfi_put_wait(&told.pen, middle_wait(s, band));
        bfi_cell_told(out, &told);
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

/* ---- What the model of the swim learned ---- */

static int has_learned(const summed *s) {
    return s->learned.n_venue + s->learned.n_other > 0;
}

static void json_learned(bfi_json *out, const summed *s) {
    if (!has_learned(s)) return;
    bfi_json_key(out, "learned");
    bfi_json_object(out);
    bfi_json_key_text(out, "venue", s->venue);
    bfi_json_key_real(out, "n_here", s->learned.n_venue);
    bfi_json_key_real(out, "n_elsewhere", s->learned.n_other);
    bfi_json_key(out, "of");
    bfi_json_array(out);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        const bf_swim_lesson *lesson = &s->learned.lesson[i];
        bfi_json_object(out);
        bfi_json_key_text(out, "name", bf_swim_parameters[i].name);
        bfi_json_key_text(out, "what", bf_swim_parameters[i].why);
        bfi_json_key_text(out, "unit", bf_swim_parameters[i].unit);
        bfi_json_key_real(out, "book", lesson->book);
        bfi_json_key_real(out, "mid", lesson->middle);
        bfi_json_key_real(out, "lo", lesson->lo);
        bfi_json_key_real(out, "hi", lesson->hi);
        bfi_json_key_real(out, "sessions", lesson->n_sessions);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    bfi_json_close(out);
}

static void put_unit(bfi_pen *pen, int parameter) {
    const char *unit = bf_swim_parameters[parameter].unit;
    if (strcmp(unit, "1") == 0) return;
    bfi_put(pen, " ");
    bfi_put(pen, unit);
}

static void finding_learned(bfi_told *told, const summed *s) {
    bfi_told_start(told);
    bfi_put(&told->pen, "From ");
    bfi_put_so_many(&told->pen, s->learned.n_venue, "session", "sessions");
    bfi_put(&told->pen, s->venue[0] ? " at " : " without a venue");
    bfi_put(&told->pen, s->venue);
    bfi_put(&told->pen, " and ");
    bfi_put_number(&told->pen, s->learned.n_other, 0);
    bfi_put(&told->pen, " elsewhere. A range as wide as the book's has learned nothing.");
}

static void table_learned(bfi_json *out, const summed *s) {
    static const char *const heads[] = {"number of the model", "book (8 in 10)", "learned (8 in 10)",
                                        "sessions", NULL};
    bfi_told told;
    if (!has_learned(s)) return;
    finding_learned(&told, s);
    bfi_table_start(out, "learned", "What the bed's model learned", told.text, heads);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        const bf_swim_lesson *lesson = &s->learned.lesson[i];
        if (lesson->n_sessions == 0) continue;
        bfi_json_array(out);
        bfi_json_text(out, bf_swim_parameters[i].why);
        bfi_told_start(&told);
        double spread = bf_swim_parameters[i].spread;
        bfi_put_between(&told.pen, lesson->book, lesson->book / spread, lesson->book * spread);
        put_unit(&told.pen, i);
        bfi_cell_told(out, &told);
        bfi_told_start(&told);
        bfi_put_between(&told.pen, lesson->middle, lesson->lo, lesson->hi);
        bfi_cell_told(out, &told);
        bfi_cell_count(out, lesson->n_sessions);
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

/* ---- Whether it foretells bites ---- */

static void put_gain(bfi_told *told, bf_banded gain) {
    bfi_put(&told->pen, " (");
    bfi_put_between(&told->pen, gain.value, gain.lower, gain.upper);
    bfi_put(&told->pen, ")");
}

static void put_law(bfi_told *told, int is_better, const char *law, bf_banded gain) {
    bfi_put(&told->pen, is_better ? "better than " : "no better than ");
    bfi_put(&told->pen, law);
    put_gain(told, gain);
}

/* "Foretelling the bites of 34 sessions, the bed's model is no better than a steady rate of bites (gamma-Poisson) (-0.1 (-0.6 to 0.4)) and ..." */
static void tell_verdict(bfi_told *told, const summed *s) {
    const bf_predict_verdict *v = &s->verdict;
    bfi_told_start(told);
    bfi_put(&told->pen, "Foretelling the bites of ");
    bfi_put_so_many(&told->pen, v->n_sessions, "session", "sessions");
    if (v->is_enough) {
        bfi_put(&told->pen, ", the bed's model is ");
        put_law(told, v->is_better_than_gamma_poisson, "a steady rate of bites (gamma-Poisson)",
                v->over_gamma_poisson);
        bfi_put(&told->pen, " and ");
        put_law(told, v->is_better_than_weibull, "one law of waits (Weibull)", v->over_weibull);
        bfi_put(&told->pen, ", by its gain in log score a session.");
        return;
    }
    bfi_put(&told->pen,
            ": too early to say whether the bed's model is any better than plain laws; that takes ");
    bfi_put_number(&told->pen, BF_PREDICT_LEAST_SESSIONS, 0);
    bfi_put(&told->pen, ".");
}

static void json_foretold(bfi_json *out, const summed *s) {
    bfi_told told;
    if (s->n_foretold == 0) return;
    tell_verdict(&told, s);
    bfi_json_key(out, "foretold");
    bfi_json_object(out);
    bfi_json_key_real(out, "n_sessions", s->verdict.n_sessions);
    bfi_json_estimate(out, "over_gamma_poisson", s->verdict.over_gamma_poisson.value,
                      s->verdict.over_gamma_poisson.lower, s->verdict.over_gamma_poisson.upper);
    bfi_json_estimate(out, "over_weibull", s->verdict.over_weibull.value, s->verdict.over_weibull.lower,
                      s->verdict.over_weibull.upper);
    bfi_json_key_text(out, "verdict", told.text);
    bfi_json_key_real(out, "uniform_p", s->n_shares ? bf_predict_uniform_p(s->share, s->n_shares) : BF_NAN);
    bfi_json_close(out);
}

static void table_foretold(bfi_json *out, const summed *s) {
    static const char *const heads[] = {"the model against", "log score a session (8 in 10)", "so it is",
                                        NULL};
    const bf_predict_verdict *v = &s->verdict;
    const struct {
        const char *law;
        bf_banded gain;
        int is_better;
    } rows[] = {
        {"a steady rate of bites (gamma-Poisson)", v->over_gamma_poisson, v->is_better_than_gamma_poisson},
        {"one law of waits (Weibull)", v->over_weibull, v->is_better_than_weibull}};
    bfi_told told;
    if (s->n_foretold == 0) return;
    tell_verdict(&told, s);
    bfi_table_start(out, "foretold", "Does the bed's model foretell bites?", told.text, heads);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        bfi_json_array(out);
        bfi_json_text(out, rows[i].law);
        bfi_told_start(&told);
        bfi_put_between(&told.pen, rows[i].gain.value, rows[i].gain.lower, rows[i].gain.upper);
        bfi_cell_told(out, &told);
        bfi_json_text(out, !v->is_enough ? BFI_TOO_EARLY : rows[i].is_better ? "better" : "no better");
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

static void json_tables(bfi_json *out, const summed *s) {
    bfi_json_key(out, "tables");
    bfi_json_array(out);
    for (int f = 0; f < BF_N_SEASON_FACTORS; f++)
        if (s->has[f]) table_of(out, s, (bf_season_factor)f);
    table_next(out, s);
    table_learned(out, s);
    table_foretold(out, s);
    bfi_json_close(out);
}

/* ---- Notes ---- */

static void json_notes(bfi_json *out, const summed *s) {
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    bfi_json_note(
        out, "confounded",
        "Feed is changed when bites stop, so fish an hour while feeding something is not because of it; days "
        "differ in much else too. A trial drawn by lot can say what feed does.");
    bfi_json_note(out, "pooled",
                  "Evened-out rates lean towards their like: a row of few fish borrows most. Their ranges "
                  "allow for days "
                  "differing more than chance.");
    for (int f = 0; f < BF_N_SEASON_FACTORS; f++) {
        if (s->table[f].n_left_out == 0) continue;
        bfi_told told;
        bfi_told_start(&told);
        bfi_put_so_many(&told.pen, s->table[f].n_left_out, "drop or stretch", "drops and stretches");
        bfi_put(&told.pen, " in no row of ");
        bfi_put(&told.pen, factor_words[f]);
        bfi_put(&told.pen, ": not told, or beyond the 48th.");
        bfi_json_note(out, "left-out", told.text);
    }
    if (has_learned(s))
        bfi_json_note(out, "learned-priors",
                      "The bed's numbers are a model's: they start from guesses and are learned from your "
                      "log. Not measurements.");
    else if (bf_json_find(&s->ask->json, 0, "learned") >= 0)
        bfi_json_note(out, "learned-nothing",
                      "The bed's model learned nothing: no session of this journal was both fed and fished. "
                      "Its numbers are the book's.");
    if (s->law.n_sessions < N_LAST)
        bfi_json_note(out, "few-sessions",
                      "Learned waits rest on fewer than ten sessions: take their range as a guess.");
    bfi_json_close(out);
}

/* ---- The answer ---- */

static void sum_up(summed *s, void *work, bf_season_waits *waits) {
    const bf_fold *fold = s->ask->fold;
    for (int f = 0; f < BF_N_SEASON_FACTORS; f++)
        s->has[f] = bf_season_by(fold, (bf_season_factor)f, LEVEL, work, &s->table[f]) == BF_OK;
    for (int i = 0; i < fold->n_sessions; i++) {
        s->n_sessions += !isnan(fold->session[i].last_ms);
        s->n_fish += fold->session[i].count[BF_LANDED];
        waits[i] = bf_season_waits_of(fold, &s->ask->turnaround, i);
        if (waits[i].band >= 0) s->n_of_band[waits[i].band] += waits[i].total_s > 0;
    }
    for (int i = 0; i < fold->n_drops; i++) s->n_drops += fold->drop[i].end_live >= 0;
    s->law = bf_season_learn(waits, fold->n_sessions);
    bf_status status = bf_season_gain(waits, fold->n_sessions, N_LAST, LEVEL, &s->gain);
    (void)status; // too few sessions: NaN, and nothing is said
}

/* An event makes a drop or a stretch or neither, and each session may have an open drop more: two an event. */
static size_t spare_bytes(const bf_journal *journal) {
    int n = bf_journal_n(journal);
    return bfi_room(sizeof(summed)) + bfi_room((size_t)n * sizeof(bf_season_waits)) + bf_season_bytes(n, n);
}

/* The venue of the session opened last; "" when none is told. */
static const char *last_venue(const bfi_ask *ask) {
    int n = ask->fold->n_sessions;
    return n ? bf_journal_name(ask->journal, ask->fold->session[n - 1].venue) : "";
}

static bf_status read_learned(summed *s) {
    bf_status status = bfi_ask_text(s->ask, "venue", s->venue, sizeof s->venue);
    if (status) return status;
    if (bf_json_find(&s->ask->json, 0, "venue") < 0) {
        const char *last = last_venue(s->ask); /* names have room: BF_NAME_BYTES */
        memcpy(s->venue, last, strlen(last) + 1);
    }
    status = bfi_read_learned(s->ask, s->venue, BF_INFINITY, &s->from);
    return status ? status : bfi_learn(s->ask, &s->from, s->venue, &s->learned);
}

#define SCORES "an array of at most 64 scores as `foretell` gives them"

static void keep_share(summed *s, double share) {
    int at = s->n_shares++;
    for (; at > 0 && s->share[at - 1] > share; at--) s->share[at] = s->share[at - 1];
    s->share[at] = share;
}

static int read_shares(summed *s, int list) {
    const bf_json *json = &s->ask->json;
    double share;
    if (list < 0 || bf_json_kind_of(json, list) != BF_JSON_ARRAY) return 0;
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_kind_of(json, i) != BF_JSON_NUMBER || bf_json_number(json, i, &share) ||
            s->n_shares == MOST_SHARES || !(share >= 0 && share <= 1))
            return 0;
        keep_share(s, share);
    }
    return 1;
}

static int read_number(const bf_json *json, int object, const char *key, double *number) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_NUMBER &&
           bf_json_number(json, value, number) == BF_OK;
}

/* 1 when a score was read. */
static int read_score(summed *s, int object) {
    const bf_json *json = &s->ask->json;
    bf_predict_session *score = &s->foretold[s->n_foretold];
    double n_waits, n_bites;
    if (s->n_foretold == BF_SEASON_MOST_LAST || bf_json_kind_of(json, object) != BF_JSON_OBJECT) return 0;
    if (!read_number(json, object, "n_waits", &n_waits) || !read_number(json, object, "n_bites", &n_bites) ||
        !read_number(json, object, "model", &score->model) ||
        !read_number(json, object, "gamma_poisson", &score->gamma_poisson) ||
        !read_number(json, object, "weibull", &score->weibull))
        return 0;
    if (!(n_bites >= 0 && n_bites <= n_waits && n_waits <= 1e6)) return 0;
    score->n_waits = (int)n_waits;
    score->n_bites = (int)n_bites;
    s->n_foretold += score->n_waits > 0;
    return read_shares(s, bf_json_find(json, object, "shares"));
}

static bf_status read_foretold(summed *s) {
    const bf_json *json = &s->ask->json;
    int value = bf_json_find(json, 0, "foretold");
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(json, value) != BF_JSON_ARRAY)
        return bfi_ask_fail(s->ask, BF_E_TYPE, "foretold", SCORES);
    for (int i = bf_json_first(json, value); i >= 0; i = bf_json_next(json, i))
        if (!read_score(s, i)) return bfi_ask_fail(s->ask, BF_E_TYPE, "foretold", SCORES);
    s->verdict = bf_predict_judge(s->foretold, s->n_foretold, LEVEL);
    return BF_OK;
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    static const char *const keys[] = {"now", "learned", "venue", "foretold", NULL};
    summed *s = ask->spare;
    bf_status status = bfi_ask_only(ask, keys);
    if (status) return status;
    memset(s, 0, sizeof *s);
    s->ask = ask;
    status = read_learned(s);
    if (!status) status = read_foretold(s);
    if (status) return status;
    bf_season_waits *waits = (bf_season_waits *)((char *)s + bfi_room(sizeof *s));
    void *work = (char *)waits + bfi_room((size_t)bf_journal_n(ask->journal) * sizeof *waits);
    sum_up(s, work, waits);
    json_sentences(out, s);
    bfi_json_key_real(out, "n_sessions", s->n_sessions);
    bfi_json_key_real(out, "n_drops", s->n_drops);
    bfi_json_key_real(out, "n_fish", s->n_fish);
    json_by(out, s);
    json_next(out, s);
    json_learned(out, s);
    json_foretold(out, s);
    json_tables(out, s);
    json_notes(out, s);
    return BF_OK;
}

const bfi_ask_verb bfi_season_verb = {"season", spare_bytes, answer, NULL};
