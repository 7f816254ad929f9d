/* kit.c -- reading a file whole, writing one at once, and where the kit lies. */
#include "logbook/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

const char *bf_file_words(bf_file what) {
    switch (what) {
    case BF_FILE_OK: return "it is fine";
    case BF_FILE_ABSENT: return "it does not exist";
    case BF_FILE_THERE: return "it exists already";
    case BF_FILE_DATABASE: return "it is a database, which is never replaced";
    case BF_FILE_SPECIAL: return "it is no ordinary file, so it is never replaced";
    case BF_FILE_TOO_LARGE: return "it is larger than 1 MiB";
    case BF_FILE_MEMORY: return "it does not fit in memory";
    case BF_FILE_SYSTEM: break;
    }
    return strerror(errno);
}

int bfi_data_path(const char *name, char path[BF_PATH_MOST]) {
    const char *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
    int n = -1;
    if (data && data[0] == '/')
        n = snprintf(path, BF_PATH_MOST, "%s/baitfall/%s", data, name);
    else if (home && home[0])
        n = snprintf(path, BF_PATH_MOST, "%s/.local/share/baitfall/%s", home, name);
    if (n > 0 && n < BF_PATH_MOST) return 1;
    path[0] = 0;
    return 0;
}

int bf_kit_path(char path[BF_PATH_MOST]) {
    return bfi_data_path("kit.json", path);
}

/* Reads until the end or one byte more than `most`. */
static bf_file read_all(int fd, size_t most, char **bytes, size_t *n) {
    size_t room = 4096, have = 0;
    char *buffer = malloc(room);
    bf_file what = buffer ? BF_FILE_OK : BF_FILE_MEMORY;
    while (what == BF_FILE_OK) {
        ssize_t got = read(fd, buffer + have, room - 1 - have);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) what = BF_FILE_SYSTEM;
        if (got <= 0) break;
        have += (size_t)got;
        if (have > most) what = BF_FILE_TOO_LARGE;
        if (what == BF_FILE_OK && have == room - 1) {
            char *larger = realloc(buffer, room *= 2);
            if (larger)
                buffer = larger;
            else
                what = BF_FILE_MEMORY;
        }
    }
    if (what != BF_FILE_OK) {
        free(buffer);
        return what;
    }
    buffer[have] = 0;
    *bytes = buffer;
    *n = have;
    return BF_FILE_OK;
}

bf_file bf_file_read(const char *path, size_t most, char **bytes, size_t *n) {
    *bytes = NULL;
    *n = 0;
    if (strcmp(path, "-") == 0) return read_all(STDIN_FILENO, most, bytes, n);
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    if (fd < 0) return errno == ENOENT ? BF_FILE_ABSENT : BF_FILE_SYSTEM;
    bf_file what = read_all(fd, most, bytes, n);
    int kept = errno;
    close(fd);
    errno = kept;
    return what;
}

/* Gives the finished temporary file its name. link(2) never replaces, so a name taken meanwhile is not lost. */
static bf_file take_name(const char *temporary, const char *path, int replace) {
    if (replace) return rename(temporary, path) == 0 ? BF_FILE_OK : BF_FILE_SYSTEM;
    if (link(temporary, path) == 0) {
        unlink(temporary);
        return BF_FILE_OK;
    }
    return errno == EEXIST ? BF_FILE_THERE : BF_FILE_SYSTEM;
}

/* The name itself reaches the disk with its folder. Some file systems refuse to flush a folder; the file's own
 * bytes are safe by then, so this is asked for and not insisted on. */
static void flush_folder(const char *path) {
    char folder[BF_PATH_MOST];
    const char *slash = strrchr(path, '/');
    size_t n = slash ? (size_t)(slash - path) : 0;
    memcpy(folder, path, n);
    folder[n] = 0;
    int fd = open(slash ? (n ? folder : "/") : ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) return;
    (void)fsync(fd);
    close(fd);
}

/* 1 when a file begins as SQLite's do ("Database File Format", section 1.3.1). */
static int is_database(const char *path) {
    static const char magic[16] = "SQLite format 3"; /* with its closing 0 */
    char head[sizeof magic];
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0) return 0;
    ssize_t n = read(fd, head, sizeof head);
    close(fd);
    return n == (ssize_t)sizeof head && memcmp(head, magic, sizeof head) == 0;
}

/* 1 for a device, a folder, a pipe: renaming a file onto it would take its place. */
static int is_special(const char *path) {
    struct stat what;
    return stat(path, &what) == 0 && !S_ISREG(what.st_mode);
}

bf_file bfi_file_begin(const char *path, int replace, bfi_new_file *file) {
    file->fd = -1;
    if (strlen(path) >= BF_PATH_MOST) {
        errno = ENAMETOOLONG;
        return BF_FILE_SYSTEM;
    }
    if (!replace && access(path, F_OK) == 0) return BF_FILE_THERE;
    if (replace && is_special(path)) return BF_FILE_SPECIAL;
    if (replace && is_database(path)) return BF_FILE_DATABASE;
    snprintf(file->temporary, sizeof file->temporary, "%s.XXXXXX", path);
    file->fd = mkstemp(file->temporary);
    if (file->fd < 0) return BF_FILE_SYSTEM;
    mode_t mask = umask(0);
    umask(mask);
    if (fchmod(file->fd, 0666 & ~mask) == 0) return BF_FILE_OK;
    bfi_file_drop(file);
    return BF_FILE_SYSTEM;
}

bf_file bfi_file_put(bfi_new_file *file, const char *bytes, size_t n) {
    while (n > 0) {
        ssize_t put = write(file->fd, bytes, n);
        if (put < 0 && errno == EINTR) continue;
        if (put < 0) return BF_FILE_SYSTEM;
        bytes += put;
        n -= (size_t)put;
    }
    return BF_FILE_OK;
}

void bfi_file_drop(bfi_new_file *file) {
    int kept = errno;
    if (file->fd >= 0) close(file->fd);
    unlink(file->temporary);
    errno = kept;
}

bf_file bfi_file_end(bfi_new_file *file, const char *path, int replace) {
    bf_file what = fsync(file->fd) == 0 ? BF_FILE_OK : BF_FILE_SYSTEM;
    if (close(file->fd) != 0) what = BF_FILE_SYSTEM;
    file->fd = -1;
    if (what == BF_FILE_OK) what = take_name(file->temporary, path, replace);
    if (what != BF_FILE_OK) {
        bfi_file_drop(file);
        return what;
    }
    flush_folder(path);
    return BF_FILE_OK;
}

bf_file bf_file_write(const char *path, const char *bytes, size_t n, int replace) {
    bfi_new_file file;
    bf_file what = bfi_file_begin(path, replace, &file);
    if (what != BF_FILE_OK) return what;
    what = bfi_file_put(&file, bytes, n);
    if (what == BF_FILE_OK) return bfi_file_end(&file, path, replace);
    bfi_file_drop(&file);
    return what;
}

bf_file bfi_make_folders(const char *path) {
    char folder[BF_PATH_MOST];
    size_t n = strlen(path);
    if (n >= BF_PATH_MOST) {
        errno = ENAMETOOLONG;
        return BF_FILE_SYSTEM;
    }
    memcpy(folder, path, n + 1);
    for (size_t i = 1; i < n; i++) {
        if (folder[i] != '/') continue;
        folder[i] = 0;
        if (mkdir(folder, 0700) != 0 && errno != EEXIST) return BF_FILE_SYSTEM;
        folder[i] = '/';
    }
    return BF_FILE_OK;
}

bf_file bf_kit_write(const char *path, const char *json, size_t n) {
    bf_file what = bfi_make_folders(path);
    return what == BF_FILE_OK ? bf_file_write(path, json, n, 1) : what;
}
