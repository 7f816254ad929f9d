/* room.h -- the one place where logbook/ takes memory for the store, so that a test can make it fail. */
#ifndef BFI_ROOM_H
#define BFI_ROOM_H

#include <stddef.h>

/* malloc, unless a test put something else here. What it gives is freed with free(). */
extern void *(*bfi_room)(size_t n);

#endif
