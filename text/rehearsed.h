/* rehearsed.h -- what the files that answer "rehearse" share: rehearse.c (the request, the setup, the day), rehearse_choices.c,
 * rehearse_lines.c (its journal), rehearse_told.c (the answer). Internal to text/. */
#ifndef BFI_REHEARSED_H
#define BFI_REHEARSED_H

#include "baitfall/rehearse.h"
#include "text/next.h"

#define BFI_REHEARSE_EVENTS 4096 /* of the session before and of the rehearsal together */
#define BFI_REHEARSE_TEXT ((size_t)1 << 20)
#define BFI_REHEARSE_SIGNS 3000
#define BFI_REHEARSE_POINTS 768
#define BFI_REHEARSE_TRUTH 160 /* doubles of a truth at most */

/* Lines of a rehearsal are of no device and no run: no store takes them, and nothing is learned from them. */
#define BFI_REHEARSE_DEV "00000000"

typedef struct bfi_rehearse_choice {
    int value;        /* of the request: its object */
    int event;        /* of the journal while choices are read, -1 for a wait */
    const char *body; /* as it stands in the request; NULL: none */
    size_t n_body;
} bfi_rehearse_choice;

typedef struct bfi_rehearse {
    bfi_ask *ask;   /* the question                                    */
    bfi_ask inner;  /* the setup, asked as "bed" is: about the rehearsal's journal, or the real one */
    bfi_next next;  /* what may be done; next.b is the inner ask's spare */
    int is_drawing; /* the setup is a real session at an instant: its truth is to be drawn, no more */
    uint64_t seed;
    int wants_end, stops_at_bite;
    int price_from, price_to; /* turns */
    double starts_ms, hours;
    int east_min;
    bf_id session;
    double begin_s; /* of the session's clock */
    /* The scene's names: they stay while journals come and go. */
    char spot[BF_SWIM_MOST_SPOTS][BF_NAME_BYTES + 1], feed[BF_SWIM_MOST_FEEDS][BF_NAME_BYTES + 1],
        hook[BF_SWIM_MOST_HOOKS][BF_NAME_BYTES + 1];
    double truth[BFI_REHEARSE_TRUTH];
    bf_rehearsal day_of;
    bf_rehearse_day day;
    int n_before; /* events of the journal that were there before the rehearsal's first */
    int n_turns;
    bf_turn turn[BF_REHEARSE_MOST_TURNS];
    bfi_rehearse_choice choice[BF_REHEARSE_MOST_TURNS];
    bf_swim_event event[BFI_REHEARSE_SIGNS];
    bf_rehearse_point point[BFI_REHEARSE_POINTS];
    bf_swim_event *story; /* of the journal, 3 * BFI_REHEARSE_EVENTS + 1 */
    int n_story;
    bf_story_put *put; /* what the journal's put-ins come to, BFI_REHEARSE_EVENTS */
    char *setup;       /* its text with the invented plan; n_setup 0: that of the request is whole */
    size_t n_setup;
    char *before;         /* the session before, as lines */
    void *journal, *work; /* work: of one draw or one price */
    char line[BF_LINE_MOST + 1];
} bfi_rehearse;

/* path: of the request. */
bf_status bfi_rehearse_fail(bfi_rehearse *r, bf_status status, const char *path, const char *accepted);
/* 1 when the setup has that member. */
int bfi_rehearse_has(const bfi_rehearse *r, const char *key);
/* Of the plan as it stands in the setup; "" where there is none. */
void bfi_rehearse_plan_text(const bfi_rehearse *r, const char *part, const char *key, char *out, size_t most);

/* rehearse_choices.c: takes each choice into the journal, then turns them into the day's turns. */
BF_CHECK bf_status bfi_rehearse_read_choices(bfi_rehearse *r);
BF_CHECK bf_status bfi_rehearse_take_choices(bfi_rehearse *r);

/* rehearse_lines.c. The k-th id of a rehearsal; a line as far as its body, which is due; the line into the journal. */
bf_id bfi_rehearse_id(const bfi_rehearse *r, int k);
bfi_json bfi_rehearse_line(bfi_rehearse *r, int k, const char *kind, double t_s);
BF_CHECK bf_status bfi_rehearse_line_done(bfi_rehearse *r, bfi_json *line, bf_error *error);
/* The journal anew: the session before, or an `open`; then the day as it happened. */
BF_CHECK bf_status bfi_rehearse_open_journal(bfi_rehearse *r);
BF_CHECK bf_status bfi_rehearse_write_day(bfi_rehearse *r);
/* After the journal has changed: the session, and its names, anew. */
void bfi_rehearse_look_again(bfi_rehearse *r);

/* An instant of the rehearsal. */
double bfi_rehearse_ms(const bfi_rehearse *r, double t_s);

/* The journal as it is after the day, with its story told anew: next.job is then about the instant at which turn i was decided. */
void bfi_rehearse_at(bfi_rehearse *r, int i, const bf_rehearse_decision *decision);

/* rehearse_told.c. All members. */
BF_CHECK bf_status bfi_json_rehearse(bfi_json *out, bfi_rehearse *r);

#endif
