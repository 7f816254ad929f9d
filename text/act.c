/* act.c -- what an entry of a journal is called on a screen. See record.h. */
#include "text/record.h"

static const char *const outcome_words[BF_N_OUTCOMES] = {
    [BF_LANDED] = "Fish", [BF_LOST] = "Lost",       [BF_MISSED] = "Missed",
    [BF_FOUL] = "Foul",   [BF_NOTHING] = "Nothing", [BF_TOUCHED] = "Touch"};

static const char *const act_words[BF_N_EVENT_KINDS] = {
    [BF_OPEN] = "Start",        [BF_CLOSE] = "End",        [BF_PLUMB] = "Depth",    [BF_WATER] = "Water",
    [BF_BOX] = "Bait box",      [BF_FEED] = "Feed",        [BF_LOWER] = "Rig in",   [BF_TOUCH] = "Touch",
    [BF_LIFT] = "Lift",         [BF_NET] = "Net",          [BF_TALLY] = "Catch up", [BF_LOOK] = "Feed left",
    [BF_ADVICE] = "Advice",     [BF_ASK] = "Asked",        [BF_NOTE] = "Note",      [BF_CLOCK] = "Clock",
    [BF_CROSS] = "Crossed out", [BF_RESTORE] = "Put back", [BF_FIX] = "Put right"};

void bfi_put_act(bfi_pen *pen, const bf_live *live) {
    int outcome = live->kind == BF_LIFT ? live->body.outcome : -1;
    bfi_put(pen, outcome >= 0 ? outcome_words[outcome] : act_words[live->kind]);
    if (live->kind != BF_NET) return;
    if (live->body.net > 0) {
        bfi_put(pen, " ");
        bfi_put_number(pen, live->body.net, 0);
    }
    if (live->body.mass_kg == live->body.mass_kg) bfi_put(pen, " weighed");
}
