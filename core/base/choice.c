/* choice.c -- see baitfall/choice.h. */
#include "baitfall/choice.h"

#include <stddef.h>

const char *const bf_bottom_words[] = {"clay", "silt", "gravel", "weed", NULL};
const char *const bf_how_words[] = {"clump", "sprinkle", "throw", "hand", NULL};
