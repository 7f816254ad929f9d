/* choice.h -- choices that more than one room offers, with their words. */
#ifndef BAITFALL_CHOICE_H
#define BAITFALL_CHOICE_H

#ifdef __cplusplus
extern "C" {
#endif

/* What the bottom is. */
typedef enum bf_bottom { BF_CLAY, BF_SILT, BF_GRAVEL, BF_WEED, BF_N_BOTTOMS } bf_bottom;

/* clump: tipped at once. sprinkle: shaken out over some seconds. throw: by catapult. hand: by hand. */
typedef enum bf_how { BF_CLUMP, BF_SPRINKLE, BF_THROW, BF_HAND, BF_N_HOWS } bf_how;

/* Their words in order, NULL-ended; static. */
extern const char *const bf_bottom_words[];
extern const char *const bf_how_words[];

#ifdef __cplusplus
}
#endif
#endif
