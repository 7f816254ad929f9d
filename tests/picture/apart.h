/* apart.h -- words of a drawing lie apart and inside it. */
#ifndef BAITFALL_TESTS_APART_H
#define BAITFALL_TESTS_APART_H

#include "common/check.h"
#include "inside.h"

/* No word lies on another or leaves x0 .. x1, 0 .. height (mm). Fails naming the scene. */
static inline void check_words_apart(const inside_word *words, int n, double x0, double x1, double height,
                                     int scene) {
    for (int a = 0; a < n; a++) {
        BF_CHECK_IN(words[a].x0, x0, x1);
        BF_CHECK_IN(words[a].x1, x0, x1);
        BF_CHECK_IN(words[a].y0, 0, height);
        BF_CHECK_IN(words[a].y1, 0, height);
        for (int b = 0; b < a; b++)
            if (inside_overlap(&words[a], &words[b]))
                fail_msg("scene %d: \"%s\" lies on \"%s\"", scene, words[a].text, words[b].text);
    }
}

#endif
