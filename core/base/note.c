#include "baitfall/note.h"

const bf_note_code bf_cautions[BF_N_CAUTIONS] = {BF_NOTE_POWER_LINES, BF_NOTE_COLD_WATER, BF_NOTE_HOOKS,
                                                 BF_NOTE_FISH_FIRST};

const char *bf_note_slug(bf_note_code code) {
    static const char *const slugs[] = {
#define NOTE_SLUG(name, slug, sentence) slug,
        BF_NOTE_LIST(NOTE_SLUG)
#undef NOTE_SLUG
    };
    BF_ASSERT(code >= 0 && code < BF_N_NOTES);
    return slugs[code];
}

const char *bf_note_sentence(bf_note_code code) {
    static const char *const sentences[] = {
#define NOTE_SENTENCE(name, slug, sentence) sentence,
        BF_NOTE_LIST(NOTE_SENTENCE)
#undef NOTE_SENTENCE
    };
    BF_ASSERT(code >= 0 && code < BF_N_NOTES);
    return sentences[code];
}
