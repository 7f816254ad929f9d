/* files.h -- the files below one folder, by the path of a request. */
#ifndef BAITFALL_SERVER_FILES_H
#define BAITFALL_SERVER_FILES_H

#include <stdint.h>

/* One open file of the page. */
typedef struct bfi_file {
    int fd; /* the receiver closes it           */
    uint64_t size;
    const char *type; /* static, "application/wasm"       */
    int is_gzip;      /* the bytes are those of its .gz   */
    char etag[64];    /* with its quotes                  */
} bfi_file;

/* Opens the file that `path` ("/", "/app-1a2b.js") names below root_fd; with takes_gzip the one with .gz after its name
 * where that lies beside it and is not older. Returns 1 and fills *file, or 0 when the path breaks the rules of
 * server.h, or nothing regular and readable is there. */
int bfi_file_open(int root_fd, const char *path, int takes_gzip, bfi_file *file);

#endif
