/* room.h -- several things behind each other in memory that the caller gives. Internal. */
#ifndef BFI_ROOM_H
#define BFI_ROOM_H

#include <stddef.h>

/* So many bytes and what it takes to stay 16-aligned behind them. */
static inline size_t bfi_room(size_t bytes) {
    return (bytes + 15) / 16 * 16;
}

#endif
