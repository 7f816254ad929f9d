/* font.h -- the generated advance widths of DejaVu Sans (scripts/font_advances). */
#ifndef BFI_FONT_H
#define BFI_FONT_H

/* Characters first .. last have their widths from index `start` on. */
typedef struct bfi_font_block {
    unsigned int first, last;
    int start;
} bfi_font_block;

extern const int bfi_font_units; /* per em */
extern const int bfi_font_n_blocks;
extern const bfi_font_block bfi_font_blocks[];
extern const unsigned short bfi_font_regular[], bfi_font_bold[];

#endif
