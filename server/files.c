#include "server/files.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "server/decide.h"

/* Walks down name by name, so that no link and no parent can lead out of the folder. Returns a descriptor or
 * -1. */
static int open_below(int root_fd, const char *path) {
    int at = dup(root_fd);
    while (at >= 0) {
        char name[BFI_MOST_NAME];
        size_t n = bfi_take_name(path, name);
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

/* A regular file below root_fd and what the system says of it; -1 when there is none. */
static int open_regular(int root_fd, const char *name, struct stat *about) {
    int fd = open_below(root_fd, name);
    if (fd < 0) return -1;
    if (fstat(fd, about) == 0 && S_ISREG(about->st_mode)) return fd;
    close(fd);
    return -1;
}

static int is_older(const struct stat *a, const struct stat *b) {
    if (a->st_mtim.tv_sec != b->st_mtim.tv_sec) return a->st_mtim.tv_sec < b->st_mtim.tv_sec;
    return a->st_mtim.tv_nsec < b->st_mtim.tv_nsec;
}

/* The compressed file instead of the plain one that *fd and *about are of, where it serves. */
static int take_gzip(int root_fd, const char *name, int *fd, struct stat *about) {
    char packed[512];
    struct stat about_packed;
    if (snprintf(packed, sizeof packed, "%s.gz", name) >= (int)sizeof packed) return 0;
    int packed_fd = open_regular(root_fd, packed, &about_packed);
    if (packed_fd < 0) return 0;
    int is_taken = !is_older(&about_packed, about);
    close(is_taken ? *fd : packed_fd);
    if (is_taken) *fd = packed_fd, *about = about_packed;
    return is_taken;
}

int bfi_file_open(int root_fd, const char *path, int takes_gzip, bfi_file *file) {
    memset(file, 0, sizeof *file);
    file->fd = -1;
    if (path[0] != '/') return 0;
    const char *name = path[1] == '\0' ? "index.html" : path + 1;

    struct stat about;
    int fd = open_regular(root_fd, name, &about);
    if (fd < 0) return 0;
    file->is_gzip = takes_gzip && take_gzip(root_fd, name, &fd, &about);
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
