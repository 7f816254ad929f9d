/* invented.c -- see invented.h. */
#include "invented.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

/* ---- Chance: xorshift64*, Box and Muller ---- */

typedef struct chance {
    uint64_t state;
} chance;

static uint64_t next_bits(chance *c) {
    c->state ^= c->state >> 12;
    c->state ^= c->state << 25;
    c->state ^= c->state >> 27;
    return c->state * 2685821657736338717u;
}

static double uniform(chance *c) {
    return ((double)(next_bits(c) >> 11) + 0.5) / 9007199254740992.0;
}

static double normal(chance *c) {
    double radius = sqrt(-2 * log(uniform(c)));
    return radius * cos(6.283185307179586 * uniform(c));
}

static int happens(chance *c, double p) {
    return uniform(c) < p;
}

static chance chance_of(uint64_t seed, int number) {
    chance c = {(seed + 1) * 0x9e3779b97f4a7c15u ^ (uint64_t)(number + 1) * 0xbf58476d1ce4e5b9u};
    if (c.state == 0) c.state = 88172645463325252u;
    for (int i = 0; i < 16; i++) next_bits(&c);
    return c;
}

/* ---- Lines ---- */

typedef struct scribe {
    chance dice;
    void (*take)(void *user, const char *line, size_t n);
    void *user;
    invented_truth *truth;
    char session[33];
    uint32_t dev, run;
    int seq;
    double start_ms; /* UTC */
} scribe;

static void random_id(chance *dice, char id[33]) {
    snprintf(id, 33, "%016llx%016llx", (unsigned long long)next_bits(dice),
             (unsigned long long)next_bits(dice));
}

/* British time without summer time: the invented pool keeps UTC. */
static void instant(double ms, char out[40]) {
    time_t whole = (time_t)floor(ms / 1000);
    struct tm t;
    gmtime_r(&whole, &t);
    size_t n = strftime(out, 40, "%Y-%m-%dT%H:%M:%S", &t);
    snprintf(out + n, 40 - n, ".%03d+00:00", (int)(ms - 1000 * (double)whole));
}

__attribute__((format(printf, 4, 5))) static void write_line(scribe *pen, double at_s, const char *kind,
                                                             const char *body, ...) {
    char line[1024], id[33], at[40], said[512];
    va_list list;
    va_start(list, body);
    vsnprintf(said, sizeof said, body, list);
    va_end(list);
    random_id(&pen->dice, id);
    instant(pen->start_ms + floor(at_s * 1000), at);
    int n = snprintf(line, sizeof line,
                     "{\"v\":1,\"id\":\"%s\",\"session\":\"%s\",\"dev\":\"%08x\",\"run\":\"%08x\",\"seq\":%d,"
                     "\"kind\":\"%s\",\"at\":\"%s\",\"pm_s\":5,\"rec\":\"%s\",\"body\":{%s}}",
                     pen->seq == 1 ? pen->session : id, pen->session, pen->dev, pen->run, pen->seq, kind, at,
                     at, said);
    pen->seq++;
    pen->truth->n_lines++;
    pen->take(pen->user, line, (size_t)n);
}

/* ---- The day ---- */

invented_day invented_start(uint64_t seed, int number) {
    invented_day day = {.seed = seed,
                        .number = number,
                        .hours = 5,
                        .rig_in_p = 0.6,
                        .nothing_p = 0.5,
                        .touch_p = 0.5,
                        .told_p = 0.9,
                        .turnaround_s = 52,
                        .guess_factor = 0.92,
                        .guess_scatter = 0.2,
                        .is_typed = 1,
                        .is_weighed = 1,
                        .nets = 3,
                        .net_limit_kg = 22.7,
                        .changes_net = 1,
                        .fish_kg = 0.8,
                        .wait_s = 150,
                        .day_sd = 0.35,
                        .warm_effect = -0.05,
                        .b_rate = 1.2,
                        .a = "soft two",
                        .b = "hard four"};
    return day;
}

static const invented_block *block_at(const invented_day *day, double s) {
    const invented_block *now = NULL;
    for (int i = 0; i < day->n_blocks && day->block[i].from_s <= s; i++) now = &day->block[i];
    return now;
}

static int feeds_b(const invented_day *day, double s) {
    const invented_block *now = block_at(day, s);
    return now ? now->is_b : s > day->hours * 1800;
}

typedef struct water {
    double temp_c, day_factor;
} water;

/* Seconds until a bite after the rig is in: Weibull of shape 1.3; a fifth quicker 3 to 8 minutes after a put-in, slower with old feed. */
static double wait_for_bite(const invented_day *day, chance *dice, const water *w, int is_b,
                            double feed_age_s) {
    double scale = day->wait_s * w->day_factor * exp(day->warm_effect * (w->temp_c - 15));
    if (is_b) scale /= day->b_rate;
    if (feed_age_s > 180 && feed_age_s < 480) scale *= 0.8;
    if (feed_age_s > 900) scale *= 1.5;
    return 1 + scale * pow(-log(uniform(dice)), 1 / 1.3);
}

static const char *size_word(double kg) {
    return kg < 0.227 ? "under_half_lb" : kg < 0.68 ? "one_lb" : kg < 1.36 ? "two_lb" : "four_lb";
}

static const char *held_word(chance *dice, int is_b) {
    double u = uniform(dice);
    if (u < (is_b ? 0.6 : 0.4)) return "lip_top_middle";
    return u < 0.8 ? "lip_top_side" : u < 0.93 ? "lip_bottom" : "corner";
}

typedef struct nets {
    int now;
    double guessed_kg; /* in the present net, as the angler adds up */
} nets;

static void land_fish(scribe *pen, const invented_day *day, nets *n, double at_s, int is_b) {
    chance *dice = &pen->dice;
    double kg = day->fish_kg * exp(0.5 * normal(dice));
    double guess = kg * day->guess_factor * exp(day->guess_scatter * normal(dice));
    invented_truth *truth = pen->truth;
    int is_told = happens(dice, day->told_p);
    if (is_told && day->is_typed)
        write_line(pen, at_s, "lift",
                   "\"outcome\":\"landed\",\"held\":\"%s\",\"species\":\"carp\",\"guess_kg\":%.2f",
                   held_word(dice, is_b), guess);
    else if (is_told)
        write_line(pen, at_s, "lift", "\"outcome\":\"landed\",\"species\":\"carp\",\"size\":\"%s\"",
                   size_word(guess));
    else
        write_line(pen, at_s, "lift", "\"outcome\":\"landed\"");
    truth->n_fish++;
    truth->kg += kg;
    truth->net_kg[n->now] += kg;
    if (day->net_limit_kg > 0 && truth->net_kg[n->now] > day->net_limit_kg && truth->over_s[n->now] < 0)
        truth->over_s[n->now] = at_s;
    n->guessed_kg += guess;
    int is_full = day->net_limit_kg > 0 && n->guessed_kg + day->fish_kg > day->net_limit_kg;
    if (day->changes_net && is_full && n->now + 1 < day->nets) {
        n->now++;
        n->guessed_kg = 0;
        write_line(pen, at_s + 30, "net", "\"net\":%d", n->now + 1);
    }
}

/* What becomes of a bite. */
static void bite(scribe *pen, const invented_day *day, nets *n, double at_s, int is_b) {
    double u = uniform(&pen->dice), clean = is_b ? 0.72 : 0.62;
    if (u < clean) {
        land_fish(pen, day, n, at_s + 40, is_b);
    } else if (u < clean + 0.2) {
        pen->truth->n_missed++;
        write_line(pen, at_s, "lift", "\"outcome\":\"missed\"");
    } else if (u < clean + 0.27) {
        pen->truth->n_lost++;
        write_line(pen, at_s + 15, "lift", "\"outcome\":\"lost\"");
    } else {
        pen->truth->n_foul++;
        write_line(pen, at_s + 30, "lift", "\"outcome\":\"foul\",\"held\":\"outside\"");
    }
}

static double feed(scribe *pen, const invented_day *day, double at_s, int is_big) {
    int is_b = feeds_b(day, at_s);
    if (is_b)
        write_line(pen, at_s, "feed", "\"spot\":\"long\",\"bait\":\"%s\",\"count\":%d,\"how\":\"clump\"",
                   day->b, is_big ? 30 : 12);
    else
        write_line(pen, at_s, "feed",
                   "\"spot\":\"long\",\"bait\":\"%s\",\"fill_frac\":%.1f,\"pot_m3\":0.000008,\"how\":\"%s\"",
                   day->a, is_big ? 1.0 : 0.4, is_big ? "clump" : "sprinkle");
    return at_s;
}

/* From the first put-in to the last drop: feed when the feed is 6 to 10 minutes old, then fish over it. */
static void fish_the_day(scribe *pen, const invented_day *day, const water *w, nets *n) {
    chance *dice = &pen->dice;
    double end = day->hours * 3600, s = feed(pen, day, 60, 1), fed_s = s, feed_again = 480;
    const invented_block *block = block_at(day, s);
    while (s < end) {
        s += day->turnaround_s * exp(0.3 * normal(dice));
        if (happens(dice, day->rig_in_p))
            write_line(pen, s, "lower", "\"spot\":\"long\",\"hook_bait\":\"hard six\"");
        int is_b = feeds_b(day, fed_s);
        double wait = wait_for_bite(day, dice, w, is_b, s - fed_s), patience = 240 + 120 * uniform(dice);
        if (happens(dice, day->touch_p * 0.4))
            write_line(pen, s + 0.5 * fmin(wait, patience), "touch", "\"n\":%d", 1 + happens(dice, 0.3));
        s += fmin(wait, patience);
        if (s >= end) break;
        pen->truth->n_drops++;
        if (wait < patience) {
            bite(pen, day, n, s, is_b);
            s += 45;
        } else if (happens(dice, day->nothing_p)) {
            write_line(pen, s, "lift", "\"outcome\":\"nothing\"");
            s += 2;
        }
        const invented_block *due = block_at(day, s);
        if (s - fed_s > feed_again || due != block) {
            s += 8;
            fed_s = feed(pen, day, s, 0);
            feed_again = 360 + 240 * uniform(dice);
            block = due;
        }
    }
}

static void weigh_in(scribe *pen, const invented_day *day, const nets *n, double at_s) {
    for (int i = 0; day->is_weighed && i <= n->now; i++)
        if (pen->truth->net_kg[i] > 0)
            write_line(pen, at_s + 60 * i, "net", "\"net\":%d,\"mass_kg\":%.2f", i + 1,
                       pen->truth->net_kg[i]);
}

void invented_write(const invented_day *day, void (*take)(void *user, const char *line, size_t n), void *user,
                    invented_truth *truth) {
    invented_truth unasked;
    if (!truth) truth = &unasked;
    *truth = (invented_truth){0};
    for (int i = 0; i < INVENTED_NETS; i++) truth->over_s[i] = -1;
    scribe pen = {
        .dice = chance_of(day->seed, day->number), .take = take, .user = user, .truth = truth, .seq = 1};
    chance *dice = &pen.dice;
    random_id(dice, pen.session);
    memcpy(truth->session, pen.session, sizeof pen.session);
    pen.dev = (uint32_t)(day->seed * 2654435761u + 97u);
    pen.run = (uint32_t)next_bits(dice);
    /* Every ninth day from 1 March 2025, 09:00, drawn to a peg of forty. */
    pen.start_ms = (1740819600.0 + 9 * 86400.0 * day->number) * 1000;
    truth->start_ms = pen.start_ms;
    double season = sin(6.2831853 * (9.0 * day->number - 50) / 365.25);
    water w = {13 + 7 * season + normal(dice), exp(day->day_sd * normal(dice))};
    truth->temp_c = w.temp_c;
    nets n = {0, 0};

    char limit[64] = "";
    if (day->net_limit_kg > 0) snprintf(limit, sizeof limit, "\"net_limit_kg\":%.1f,", day->net_limit_kg);
    write_line(&pen, 0, "open",
               "\"venue\":\"Withy Pool (invented)\",\"peg\":\"%d\",\"hook_bait\":\"hard "
               "six\",\"nets\":%d,%s\"hours\":%g,"
               "\"note\":\"Invented day.%s%s\"",
               1 + (int)(40 * uniform(dice)), day->nets, limit, day->hours, day->note ? " " : "",
               day->note ? day->note : "");
    write_line(&pen, 5, "water", "\"temp_c\":%.1f,\"wind_m_s\":%.1f", w.temp_c, 1 + 4 * uniform(dice));
    write_line(&pen, 10, "plumb",
               "\"spot\":\"long\",\"distance_m\":11.5,\"depth_m\":1.62,\"bottom\":\"silt\"");
    write_line(&pen, 15, "box", "\"bait\":\"%s\",\"volume_m3\":0.0006", day->a);
    write_line(&pen, 16, "box", "\"bait\":\"%s\",\"count\":600", day->b);
    write_line(&pen, 20, "net", "\"net\":1");
    fish_the_day(&pen, day, &w, &n);
    weigh_in(&pen, day, &n, day->hours * 3600 + 300);
    write_line(&pen, day->hours * 3600 + 900, "close", "%s", "");
}
