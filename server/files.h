/* files.h -- the files below one folder, by the path of a request. */
#ifndef BAITFALL_SERVER_FILES_H
#define BAITFALL_SERVER_FILES_H

#include <stddef.h>
#include <stdint.h>

/* One open file of the page. */
typedef struct bfi_file {
    int fd; /* the receiver closes it           */
    uint64_t size;
    const char *type; /* static, "application/wasm"       */
    char etag[48];    /* with its quotes                  */
} bfi_file;

/* Opens the file that `path` ("/", "/app-1a2b.js") names below root_fd. Returns 1 and fills *file, or 0 when
 * the path breaks the rules of server.h, or nothing regular and readable is there. */
int bfi_file_open(int root_fd, const char *path, bfi_file *file);

#endif
