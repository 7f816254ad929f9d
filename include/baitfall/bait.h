/* bait.h -- what is fed: the shape, size and density of one piece, and the catalogue of generic forms.
 *
 * Pure; all tables are constant. Units, accepted ranges and start values of each field: bf_bait_table. Where the values
 * come from: docs/models/bait.md. Tests: tests/feed/bait_test.c
 */
#ifndef BAITFALL_BAIT_H
#define BAITFALL_BAIT_H

#include "baitfall/field.h"
#include "baitfall/note.h"

#ifdef __cplusplus
extern "C" {
#endif

/* sphere: round. cylinder: diameter and length. lens: a flattened round, length is its thickness.
 * cube: diameter is its edge. ball: a squeezed ball of groundbait, one piece until it breaks up. */
typedef enum bf_form { BF_SPHERE, BF_CYLINDER, BF_LENS, BF_CUBE, BF_BALL } bf_form;

/* 1 for BF_SPHERE and BF_BALL. */
int bf_is_round(int form);

/* dry: as from the bag. glazed: only the skin has been wetted. soaked: water has gone through. */
typedef enum bf_state { BF_DRY, BF_GLAZED, BF_SOAKED } bf_state;

/* pellet: its label understates its size. live: crawls once it is down. */
typedef enum bf_bait_kind { BF_PELLET, BF_LIVE, BF_OTHER_BAIT } bf_bait_kind;

typedef struct bf_bait {
    int form;                      /* bf_form                                                        */
    int state;                     /* bf_state                                                       */
    int kind;                      /* bf_bait_kind: read by remarks only                           */
    bf_quantity diameter_m;        /* of a piece in the state given, as it goes in                   */
    bf_quantity length_m;          /* cylinder: along the axis; lens: thickness; else not read       */
    bf_quantity density_kg_m3;     /* of a piece in the state given, as it goes in                   */
    double size_scatter_frac;      /* piece to piece, one standard deviation, of the diameter        */
    double density_scatter_kg_m3;  /* piece to piece, one standard deviation                         */
    bf_quantity drag_law_error;    /* where real drag lies, in give-or-takes of the drag law (fall.h) */
    bf_quantity contact_angle_deg; /* how the dry skin meets water; 0: wets at once                  */
    bf_quantity hang_s;            /* a dry piece that can hang on the surface film lets go after it */
    bf_quantity punch_weber;       /* Weber number at which a piece that hits the film goes through  */
    bf_quantity repose_deg;        /* slope of a heap of pieces                                      */
    bf_quantity pore_frac;         /* open pore volume per dry volume                                */
    bf_quantity uptake_frac;       /* water taken up at the end, kg per kg dry                       */
    bf_quantity half_uptake_s;     /* time to half of it at 20 C                                     */
} bf_bait;

extern const bf_table bf_bait_table;

/* One generic form: its word ("hard-4"), what it is called ("hard 4 mm pellets": a number may stand before it), the same
 * and how it is, its record, and where its values come from. No make or brand stands behind any of them; live baits
 * crawl, which is not modelled. */
typedef struct bf_catalogue_entry {
    const char *word;
    const char *name;
    const char *title;
    bf_bait bait;
    const char *origin;
} bf_catalogue_entry;

extern const bf_catalogue_entry bf_catalogue[];
extern const int bf_n_catalogue;

/* Index of a catalogue word of n bytes (no closing zero needed, capitals matter), or -1. */
int bf_catalogue_find(const char *word, size_t n);

/* What a person reads for a bait of this id, fed or on the hook: the catalogue's name for one of its words, for all others
 * the id itself, which is what their owner calls them. The one place that names a bait; requests and answers keep ids. */
const char *bf_bait_name(const char *id);

/* So many bytes of that name where there is room for few letters, as on the card: a long name of the catalogue's without its
 * last word. Example: "hard-4" -> 9, "hard 4 mm". */
size_t bf_bait_short(const char *id);

/* What is not modelled about a bait once it is down: live bait crawls, a ball breaks up. Returns how many, at most 1. */
int bf_bait_notes(const bf_bait *bait, bf_note *notes);

/* Volume of one piece, m3, and the diameter of the sphere of that volume, m. A lens is a spheroid. Sizes > 0; length is
 * read for cylinder and lens only. Exact. Example: cylinder of 4 x 4 mm -> 5.0265e-8 m3, 4.579 mm. */
double bf_piece_volume_m3(int form, double diameter_m, double length_m);
double bf_piece_equivalent_m(int form, double diameter_m, double length_m);

/* Sphericity: surface of the sphere of the same volume / surface of the piece; 1 for a sphere. Exact. Example: cylinder
 * as long as wide -> 0.873580. */
double bf_piece_sphericity(int form, double diameter_m, double length_m);

#ifdef __cplusplus
}
#endif
#endif
