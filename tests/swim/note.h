/* note.h -- docs/models/swim.md as it stands, for tests of what it says. Test code only; include it once in a program. */
#ifndef BAITFALL_TESTS_NOTE_H
#define BAITFALL_TESTS_NOTE_H

#include <stdio.h>

static char note[200000];

/* A cmocka setup; fails where the note is not there, or does not fit. */
static int note_is_read(void **state) {
    (void)state;
    FILE *file = fopen(BF_TEST_DATA "/../../docs/models/swim.md", "r");
    if (!file) return 1;
    size_t size = fread(note, 1, sizeof note - 1, file);
    fclose(file);
    return size < 1000 || size == sizeof note - 1;
}

#endif
