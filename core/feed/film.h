/* film.h -- the full solution that the fast form of baitfall/film.h is fitted to. */
#ifndef BAITFALL_CORE_FEED_FILM_H
#define BAITFALL_CORE_FEED_FILM_H

/* As bf_film_density_most_kg_m3, by solving the meniscus and searching for the most it can carry; about 20 ms. */
double bfi_film_density_solved_kg_m3(double diameter_m, double contact_angle_deg, double water_kg_m3,
                                     double tension_n_m);

#endif
