/* kit.h -- the kit file: the angler's own baits, pots and throws, in one JSON file on this machine.
 *
 * This room only keeps bytes; what they mean is text/'s business (docs/formats.md). Reading never changes the file.
 * Writing goes to a new file beside it, which is flushed to the disk and then takes the old one's name: a crash, a
 * full disk or a pulled plug leaves either the old kit or the new one, never half of one.
 *
 * Not thread-safe against a second writer: the last one wins, whole.
 */
#ifndef BAITFALL_KIT_H
#define BAITFALL_KIT_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_PATH_MOST 4096         /* bytes of a path, its closing zero included */
#define BF_KIT_BYTES_MOST 1048576 /* 1 MiB: larger kits are refused unread    */

/* What became of a file. */
typedef enum bf_file {
    BF_FILE_OK,
    BF_FILE_ABSENT,    /* reading: there is no such file                              */
    BF_FILE_THERE,     /* writing: the name is taken and `replace` was 0              */
    BF_FILE_DATABASE,  /* writing: the name is that of a database; none is replaced   */
    BF_FILE_SPECIAL,   /* writing: the name is a device's, a folder's: no ordinary file   */
    BF_FILE_TOO_LARGE, /* reading: more bytes than the caller accepts                 */
    BF_FILE_MEMORY,    /* out of memory                                               */
    BF_FILE_SYSTEM     /* anything else the system refused; errno says what           */
} bf_file;

/* One plain sentence part for a bf_file, such as "it does not exist"; BF_FILE_SYSTEM: the system's own words for
 * errno. Static or until the next call. */
const char *bf_file_words(bf_file what);

/* Where the kit lies when nobody says: $XDG_DATA_HOME/baitfall/kit.json, else $HOME/.local/share/baitfall/kit.json
 * (XDG Base Directory Specification; a relative XDG_DATA_HOME is ignored as it demands).
 *
 * path   (out BF_PATH_MOST) zero-ended; "" when neither variable is set or the path would not fit
 * Returns 1 when path was written, 0 otherwise. */
int bf_kit_path(char path[BF_PATH_MOST]);

/* Reads a whole file into memory.
 *
 * path     "-" is standard input
 * most     bytes accepted; a longer file is BF_FILE_TOO_LARGE and nothing is kept
 * *bytes   (out) the file and a closing zero that *n does not count; the caller frees it with free(). NULL on error.
 * *n       (out) bytes read, 0 on error */
BF_CHECK bf_file bf_file_read(const char *path, size_t most, char **bytes, size_t *n);

/* Writes n bytes under a name at once: temporary file in the same folder, fsync, then the name. On any error the
 * old file stands untouched and no temporary file is left.
 *
 * replace  1: an existing file is replaced; 0: it is kept, the answer is BF_FILE_THERE. A database, which may be a
 *          journal, is kept all the same: BF_FILE_DATABASE; so is what is no ordinary file: BF_FILE_SPECIAL */
BF_CHECK bf_file bf_file_write(const char *path, const char *bytes, size_t n, int replace);

/* bf_file_write with replace, after making the folders of the path that are missing (mode 0700). */
BF_CHECK bf_file bf_kit_write(const char *path, const char *json, size_t n);

#ifdef __cplusplus
}
#endif
#endif
