#include "server/files.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define MOST_NAME 128

static int is_name_byte(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
           c == '_' || c == '-';
}

/* Copies the part of a path before the next '/', and returns its length; 0 when it is not a name we serve. */
static size_t take_name(const char *path, char name[MOST_NAME]) {
    size_t n = 0;
    for (; path[n] != '\0' && path[n] != '/'; n++) {
        if (n + 1 >= MOST_NAME || !is_name_byte(path[n])) return 0;
        name[n] = path[n];
    }
    if (n == 0 || name[0] == '.') return 0;
    name[n] = '\0';
    return n;
}

/* Walks down name by name, so that no link and no parent can lead out of the folder. Returns a descriptor or
 * -1. */
static int open_below(int root_fd, const char *path) {
    int at = dup(root_fd);
    while (at >= 0) {
        char name[MOST_NAME];
        size_t n = take_name(path, name);
        int is_last = n > 0 && path[n] == '\0';
        int kind = is_last ? O_NONBLOCK : O_DIRECTORY;
        int next = n == 0 ? -1 : openat(at, name, O_RDONLY | O_NOFOLLOW | O_CLOEXEC | kind);
        close(at);
        if (is_last) return next;
        at = next;
        path += n + 1;
    }
    return -1;
}

static const char *type_of(const char *path) {
    static const struct {
        const char *ending, *type;
    } types[] = {
        {".html", "text/html; charset=utf-8"},
        {".js", "text/javascript; charset=utf-8"},
        {".css", "text/css; charset=utf-8"},
        {".wasm", "application/wasm"},
        {".webmanifest", "application/manifest+json"},
        {".json", "application/json"},
        {".svg", "image/svg+xml"},
        {".png", "image/png"},
        {".woff2", "font/woff2"},
        {".txt", "text/plain; charset=utf-8"},
    };
    const char *ending = strrchr(path, '.');
    for (size_t i = 0; ending && i < sizeof types / sizeof types[0]; i++)
        if (strcmp(ending, types[i].ending) == 0) return types[i].type;
    return "application/octet-stream";
}

int bfi_file_open(int root_fd, const char *path, bfi_file *file) {
    memset(file, 0, sizeof *file);
    file->fd = -1;
    if (path[0] != '/') return 0;
    const char *name = path[1] == '\0' ? "index.html" : path + 1;

    int fd = open_below(root_fd, name);
    struct stat about;
    if (fd < 0) return 0;
    if (fstat(fd, &about) != 0 || !S_ISREG(about.st_mode)) {
        close(fd);
        return 0;
    }
    file->fd = fd;
    file->size = (uint64_t)about.st_size;
    file->type = type_of(name);
    /* The same inode, size and time of change to the nanosecond: the same bytes. */
    snprintf(file->etag, sizeof file->etag, "\"%llx-%llx-%llx\"", (unsigned long long)about.st_ino,
             (unsigned long long)about.st_size,
             (unsigned long long)about.st_mtim.tv_sec * 1000000000ull +
                 (unsigned long long)about.st_mtim.tv_nsec);
    return 1;
}
