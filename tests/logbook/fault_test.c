/* Everything that can go wrong below the store: writes, syncs, opens and allocations failing one by one; a full disk, read-only places,
 * locks, damaged pages. Afterwards every acknowledged event is there, the database is whole, and the error was said. */
#define _XOPEN_SOURCE 700

#include "logbook/logbook.h"

#include <errno.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>

#include "logbook/room.h"

/* ---- Faults on order ---- */

/* The n-th chance to fail is taken; 0: none. With `is_lasting` every later one too, as on a disk that stays full. */
typedef struct fault_plan {
    int at, is_lasting;
    int n_chances, n_taken;
} fault_plan;

static fault_plan disk, memory;

static int fails(fault_plan *plan) {
    plan->n_chances++;
    int is_due =
        plan->at > 0 && (plan->n_chances == plan->at || (plan->is_lasting && plan->n_chances > plan->at));
    plan->n_taken += is_due;
    return is_due;
}

/* ---- A VFS over the system's whose writes, syncs, truncations and opens may fail ---- */

typedef struct faulty_file {
    sqlite3_file base;
    sqlite3_file *real;
} faulty_file;

static sqlite3_file *real_of(sqlite3_file *file) {
    return ((faulty_file *)file)->real;
}

#define PASS(file, method, ...) real_of(file)->pMethods->method(real_of(file), __VA_ARGS__)

static int f_close(sqlite3_file *f) {
    return real_of(f)->pMethods->xClose(real_of(f));
}
static int f_read(sqlite3_file *f, void *to, int n, sqlite3_int64 from) {
    return PASS(f, xRead, to, n, from);
}
static int f_write(sqlite3_file *f, const void *from, int n, sqlite3_int64 to) {
    return fails(&disk) ? SQLITE_IOERR_WRITE : PASS(f, xWrite, from, n, to);
}
static int f_truncate(sqlite3_file *f, sqlite3_int64 n) {
    return fails(&disk) ? SQLITE_IOERR_TRUNCATE : PASS(f, xTruncate, n);
}
static int f_sync(sqlite3_file *f, int flags) {
    return fails(&disk) ? SQLITE_IOERR_FSYNC : PASS(f, xSync, flags);
}
static int f_size(sqlite3_file *f, sqlite3_int64 *n) {
    return PASS(f, xFileSize, n);
}
static int f_lock(sqlite3_file *f, int lock) {
    return PASS(f, xLock, lock);
}
static int f_unlock(sqlite3_file *f, int lock) {
    return PASS(f, xUnlock, lock);
}
static int f_check(sqlite3_file *f, int *out) {
    return PASS(f, xCheckReservedLock, out);
}
static int f_control(sqlite3_file *f, int op, void *arg) {
    return PASS(f, xFileControl, op, arg);
}
static int f_sector(sqlite3_file *f) {
    return real_of(f)->pMethods->xSectorSize(real_of(f));
}
static int f_traits(sqlite3_file *f) {
    return real_of(f)->pMethods->xDeviceCharacteristics(real_of(f));
}
static int f_shm_map(sqlite3_file *f, int page, int size, int extend, void volatile **out) {
    return PASS(f, xShmMap, page, size, extend, out);
}
static int f_shm_lock(sqlite3_file *f, int offset, int n, int flags) {
    return PASS(f, xShmLock, offset, n, flags);
}
static void f_shm_barrier(sqlite3_file *f) {
    real_of(f)->pMethods->xShmBarrier(real_of(f));
}
static int f_shm_unmap(sqlite3_file *f, int deletes) {
    return PASS(f, xShmUnmap, deletes);
}

static const sqlite3_io_methods faulty_methods = {.iVersion = 2,
                                                  .xClose = f_close,
                                                  .xRead = f_read,
                                                  .xWrite = f_write,
                                                  .xTruncate = f_truncate,
                                                  .xSync = f_sync,
                                                  .xFileSize = f_size,
                                                  .xLock = f_lock,
                                                  .xUnlock = f_unlock,
                                                  .xCheckReservedLock = f_check,
                                                  .xFileControl = f_control,
                                                  .xSectorSize = f_sector,
                                                  .xDeviceCharacteristics = f_traits,
                                                  .xShmMap = f_shm_map,
                                                  .xShmLock = f_shm_lock,
                                                  .xShmBarrier = f_shm_barrier,
                                                  .xShmUnmap = f_shm_unmap};

static sqlite3_vfs faulty, *real_vfs;

static int v_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out) {
    faulty_file *mine = (faulty_file *)file;
    (void)vfs;
    mine->base.pMethods = NULL;
    mine->real = (sqlite3_file *)(mine + 1);
    if (fails(&disk)) return SQLITE_CANTOPEN;
    int code = real_vfs->xOpen(real_vfs, name, mine->real, flags, out);
    if (mine->real->pMethods) mine->base.pMethods = &faulty_methods;
    return code;
}

static void put_vfs(void) {
    real_vfs = sqlite3_vfs_find(NULL);
    faulty = *real_vfs;
    faulty.zName = "faulty";
    faulty.szOsFile = (int)sizeof(faulty_file) + real_vfs->szOsFile;
    faulty.xOpen = v_open;
    assert_int_equal(sqlite3_vfs_register(&faulty, 1), SQLITE_OK);
}

/* ---- Memory that may fail, SQLite's and our own ---- */

static sqlite3_mem_methods real_memory;

static void *m_malloc(int n) {
    return fails(&memory) ? NULL : real_memory.xMalloc(n);
}
static void *m_realloc(void *old, int n) {
    return fails(&memory) ? NULL : real_memory.xRealloc(old, n);
}
static void *our_malloc(size_t n) {
    return fails(&memory) ? NULL : malloc(n);
}

static void put_memory(void) {
    sqlite3_mem_methods mine;
    assert_int_equal(sqlite3_config(SQLITE_CONFIG_GETMALLOC, &real_memory), SQLITE_OK);
    mine = real_memory;
    mine.xMalloc = m_malloc;
    mine.xRealloc = m_realloc;
    assert_int_equal(sqlite3_config(SQLITE_CONFIG_MALLOC, &mine), SQLITE_OK);
    bfi_room = our_malloc;
}

static void no_faults(void) {
    disk = memory = (fault_plan){0};
}

/* ---- What is tried under faults ---- */

#define N_BEFORE 5
#define N_ADDED 6
#define N_IMPORTED 120

/* The database with the first n lines, as a file's bytes; made once for each n. */
static const char *base_of(int n_before, size_t *n) {
    static char *bytes;
    static size_t size;
    static int have;
    if (have != n_before) {
        bf_store *store = opened(at("base.db"));
        assert_int_equal(sqlite3_exec(store->db, "PRAGMA synchronous=OFF", NULL, NULL, NULL), SQLITE_OK);
        for (int k = 1; k <= n_before; k++) added(store, line_of(k));
        bf_store_close(store);
        free(bytes);
        bytes = bytes_of(at("base.db"), &size);
        unlink(at("base.db"));
        have = n_before;
    }
    *n = size;
    return bytes;
}

static void start_over(int n_before) {
    size_t n;
    no_faults();
    unlink(at("j.db"));
    unlink(at("j.db-wal"));
    unlink(at("j.db-shm"));
    unlink(at("j.db-journal"));
    if (n_before == 0) return;
    const char *bytes = base_of(n_before, &n);
    FILE *file = fopen(at("j.db"), "wb");
    assert_int_equal(fwrite(bytes, 1, n, file), n);
    fclose(file);
    no_faults();
}

/* An error has its sentence and a cause that fits. */
static void is_said(const bf_store_error *error, int is_memory) {
    assert_true(error->sentence[0] != 0);
    assert_int_not_equal(error->what, BF_STORE_OK);
    if (is_memory) assert_int_equal(error->what, BF_STORE_MEMORY);
    if (!is_memory)
        assert_true(error->what == BF_STORE_SYSTEM || error->what == BF_STORE_READ_ONLY ||
                    error->what == BF_STORE_FULL);
}

/* Adds lines one by one; sets acknowledged[k] for each that the store took. */
static void try_adding(int from, int n, int *acknowledged, int is_memory) {
    bf_store *store;
    bf_store_error error;
    bf_taken taken;
    if (bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error) != BF_STORE_OK) {
        is_said(&error, is_memory);
        return;
    }
    for (int k = from; k < from + n; k++) {
        if (bf_store_add(store, line_of(k), strlen(line_of(k)), &taken, &error) == BF_STORE_OK)
            acknowledged[k] = 1;
        else
            is_said(&error, is_memory);
    }
    bf_store_close(store);
}

static void hear_stored(void *to, bf_told_kind kind, long long number, const char *sentence) {
    (void)sentence;
    if (kind == BF_TOLD_STORED) *(long long *)to = number;
}

static void try_importing(int from, int n, int *acknowledged, int is_memory) {
    static char text[N_IMPORTED * 512];
    bf_store *store;
    bf_store_error error;
    bf_import counts;
    long long stored = 0;
    text_source source = {.text = text};
    for (int k = from; k < from + n; k++) source.n += (size_t)sprintf(text + source.n, "%s\n", line_of(k));
    if (bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error) != BF_STORE_OK) {
        is_said(&error, is_memory);
        return;
    }
    bf_store_what what = bf_store_import(store, read_text, &source, hear_stored, &stored, &counts, &error);
    if (what != BF_STORE_OK) is_said(&error, is_memory);
    assert_int_equal(counts.fresh, stored);
    assert_int_equal(counts.refused, 0);
    if (what == BF_STORE_OK) assert_int_equal(stored, n);
    for (long long k = 0; k < stored; k++) acknowledged[from + k] = 1;
    bf_store_close(store);
}

/* Everything that was acknowledged is there, the rest whole or absent, and all of it can be added now. */
static void nothing_is_lost(int last, const int *acknowledged) {
    no_faults();
    bf_store *store = opened(at("j.db"));
    is_whole(store);
    assert_int_equal(sqlite3_exec(store->db, "PRAGMA synchronous=OFF", NULL, NULL, NULL),
                     SQLITE_OK); /* only for speed */
    for (int k = 1; k <= last; k++) {
        bf_taken taken = added(store, line_of(k));
        assert_true(taken == BF_TAKEN_KNOWN || (taken == BF_TAKEN_NEW && !acknowledged[k]));
    }
    assert_int_equal(count_of(store), last);
    is_whole(store);
    bf_store_close(store);
}

typedef void (*trial)(int from, int n, int *acknowledged, int is_memory);

/* Lets each chance fail in turn, once and lastingly, until a run has none left. By default later chances are sampled. Returns
 * how many faults were taken. */
static int with_each_fault(fault_plan *plan, trial attempt, int n_before, int n) {
    int n_faults = 0, step = 1;
    for (int is_lasting = 0; is_lasting < 2; is_lasting++)
        for (int nth = 1;; nth += step) {
            int acknowledged[N_BEFORE + N_IMPORTED + 1] = {0};
            start_over(n_before);
            for (int k = 1; k <= n_before; k++) acknowledged[k] = 1;
            plan->at = nth;
            plan->is_lasting = is_lasting;
            attempt(n_before + 1, n, acknowledged, plan == &memory);
            int was_taken = plan->n_taken > 0;
            nothing_is_lost(n_before + n, acknowledged);
            if (!was_taken) break;
            n_faults++;
            step = getenv("BF_LONG") || nth < 60 ? 1 : 1 + nth / 20;
        }
    return n_faults;
}

static void every_write_sync_and_open_may_fail_while_adding(void **state) {
    (void)state;
    assert_in_range(with_each_fault(&disk, try_adding, N_BEFORE, N_ADDED), 20, 100000);
}

static void every_write_sync_and_open_may_fail_while_a_database_is_made(void **state) {
    (void)state;
    assert_in_range(with_each_fault(&disk, try_adding, 0, 2), 20, 100000);
}

static void every_write_sync_and_open_may_fail_while_importing(void **state) {
    (void)state;
    assert_in_range(with_each_fault(&disk, try_importing, N_BEFORE, N_IMPORTED), 20, 100000);
}

static void every_allocation_may_fail_while_adding(void **state) {
    (void)state;
    assert_in_range(with_each_fault(&memory, try_adding, N_BEFORE, N_ADDED), 100, 100000);
}

static void every_allocation_may_fail_while_importing(void **state) {
    (void)state;
    assert_in_range(with_each_fault(&memory, try_importing, N_BEFORE, N_IMPORTED), 100, 100000);
}

/* ---- Reading under failing memory ---- */

static int ignore_session(void *to, const bf_stored_session *session) {
    (void)to, (void)session;
    return 0;
}

/* It worked, or said that memory ran out. */
static int worked(bf_store_what what, const bf_store_error *error) {
    if (what != BF_STORE_OK && what != BF_STORE_MEMORY) print_error("%d: %s\n", (int)what, error->sentence);
    assert_true(what == BF_STORE_OK || what == BF_STORE_MEMORY);
    return what == BF_STORE_OK;
}

static void read_everything(bf_store *store) {
    bf_store_error error;
    bf_store_state found;
    bf_journal *journal;
    text_sink lines = {0}, table = {0};
    long long n;
    bf_id id, session;
    int n_ids;
    if (worked(bf_store_count(store, &n, &error), &error)) assert_int_equal(n, N_BEFORE);
    (void)worked(bf_store_sessions(store, ignore_session, NULL, &error), &error);
    if (worked(bf_store_next_seq(store, &n, &error), &error)) assert_int_equal(n, N_BEFORE + 1);
    if (worked(bf_store_find(store, "0000", &id, &session, &n_ids, &error), &error))
        assert_int_equal(n_ids, 2);
    if (worked(bf_store_export(store, NULL, BF_EXPORT_LINES, write_text, &lines, &n, &error), &error))
        assert_int_equal(n, N_BEFORE);
    if (worked(bf_store_export(store, NULL, BF_EXPORT_CSV, write_text, &table, &n, &error), &error))
        assert_int_equal(n, N_BEFORE);
    if (worked(bf_store_check(store, NULL, NULL, &found, &error), &error))
        assert_int_equal(found.damaged + found.database + found.derived, 0);
    if (worked(bf_store_backup(store, at("b.db"), &n, &error), &error)) assert_int_equal(n, N_BEFORE);
    if (worked(bf_store_load(store, NULL, &journal, &error), &error)) free(journal);
    free(lines.text);
    free(table.text);
    unlink(at("b.db"));
}

static void every_allocation_may_fail_while_reading(void **state) {
    (void)state;
    int n_faults = 0, step = 1;
    for (int nth = 1;; nth += step) {
        bf_store *store;
        bf_store_error error;
        start_over(N_BEFORE);
        memory.at = nth;
        if (bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error) == BF_STORE_OK) {
            read_everything(store);
            bf_store_close(store);
        }
        int was_taken = memory.n_taken > 0, acknowledged[N_BEFORE + 1] = {0, 1, 1, 1, 1, 1};
        nothing_is_lost(N_BEFORE, acknowledged);
        if (!was_taken) break;
        n_faults++;
        step = getenv("BF_LONG") || nth < 100 ? 1 : 1 + nth / 20;
    }
    assert_in_range(n_faults, 100, 100000);
    assert_int_equal(n_files(), 1);
}

/* ---- A full disk, by a limit on file size (POSIX setrlimit) ---- */

static void a_full_disk_is_said_and_loses_nothing(void **state) {
    (void)state;
    struct rlimit before, tight;
    int acknowledged[N_IMPORTED + 1] = {0}, n_refused = 0;
    start_over(0);
    bf_store *store = opened(at("j.db"));
    signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &before);
    tight = before;
    tight.rlim_cur = 100000;
    setrlimit(RLIMIT_FSIZE, &tight);
    for (int k = 1; k <= N_IMPORTED; k++) {
        bf_taken taken;
        bf_store_error error;
        acknowledged[k] = bf_store_add(store, line_of(k), strlen(line_of(k)), &taken, &error) == BF_STORE_OK;
        if (acknowledged[k]) continue;
        assert_int_equal(error.what, BF_STORE_FULL);
        n_refused++;
    }
    setrlimit(RLIMIT_FSIZE, &before);
    bf_store_close(store);
    assert_in_range(n_refused, 1, N_IMPORTED - 1);
    nothing_is_lost(N_IMPORTED, acknowledged);
}

static void an_export_onto_a_full_disk_leaves_no_half_file(void **state) {
    (void)state;
    struct rlimit before, tight;
    long long n;
    bf_store_error error;
    start_over(0);
    bf_store *store = opened(at("j.db"));
    for (int k = 1; k <= 200; k++) added(store, line_of(k));
    signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &before);
    tight = before;
    tight.rlim_cur = 20000;
    setrlimit(RLIMIT_FSIZE, &tight);
    bf_store_what exported_what =
        bf_store_export_file(store, NULL, BF_EXPORT_LINES, at("out"), 0, &n, &error);
    bf_store_what copied = bf_store_backup(store, at("b.db"), &n, &error);
    setrlimit(RLIMIT_FSIZE, &before);
    assert_int_equal(exported_what, BF_STORE_FULL);
    assert_int_equal(copied, BF_STORE_FULL);
    bf_store_close(store);
    assert_int_equal(n_files(), 1);
}

/* ---- Read-only places. Root may write everywhere, so this is done as nobody ---- */

static void as_nobody(void (*attempt)(void)) {
    int status;
    pid_t child = fork();
    if (child == 0) {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) _exit(99);
        attempt();
        _exit(0);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

static void must_be_read_only(void) {
    bf_store *store;
    bf_store_error error;
    bf_taken taken;
    bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error);
    if (what == BF_STORE_OK) what = bf_store_add(store, line_of(9), strlen(line_of(9)), &taken, &error);
    if (what != BF_STORE_READ_ONLY) fprintf(stderr, "%d %s\n", (int)what, error.sentence);
    _exit(what == BF_STORE_READ_ONLY && strstr(error.sentence, at("j.db")) ? 0 : 1);
}

static void must_not_be_made(void) {
    bf_store *store;
    bf_store_error error;
    bf_store_what what = bf_store_open(at("new/j.db"), BF_STORE_TO_MAKE, &store, &error);
    _exit(what == BF_STORE_READ_ONLY && strstr(error.sentence, at("new/j.db")) &&
                  strstr(error.sentence, "Nothing was changed")
              ? 0
              : 1);
}

static void a_read_only_file_or_folder_is_said(void **state) {
    (void)state;
    static const struct {
        mode_t folder, file;
    } modes[] = {{0777, 0444}, {0555, 0666}, {0555, 0444}, {0777, 0}};
    start_over(N_BEFORE);
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        assert_int_equal(chmod(at("j.db"), modes[i].file), 0);
        assert_int_equal(chmod(folder, modes[i].folder), 0);
        as_nobody(must_be_read_only);
    }
    assert_int_equal(chmod(folder, 0555), 0);
    as_nobody(must_not_be_made);
    assert_int_equal(chmod(folder, 0700), 0);
    assert_int_equal(chmod(at("j.db"), 0600), 0);
    int acknowledged[N_BEFORE + 1] = {0, 1, 1, 1, 1, 1};
    nothing_is_lost(N_BEFORE, acknowledged);
}

static int count_sessions(void *to, const bf_stored_session *session) {
    *(int *)to += session->n_events;
    return 0;
}

/* Reads everything there is in every way there is, and may add nothing. expected: entries; 0: or else be refused. */
static void read_as_nobody(int expected, int may_be_refused) {
    bf_store *store;
    bf_store_error error;
    bf_journal *journal;
    bf_store_state state;
    bf_taken taken;
    text_sink sink = {0};
    long long n = 0;
    int n_of_sessions = 0;
    bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
    if (what != BF_STORE_OK) fprintf(stderr, "%s\n", error.sentence);
    if (what != BF_STORE_OK) _exit(may_be_refused && what == BF_STORE_READ_ONLY ? 0 : 1);
    if (bf_store_load(store, NULL, &journal, &error) != BF_STORE_OK) _exit(2);
    if (bf_journal_n(journal) != expected) _exit(3);
    if (bf_store_sessions(store, count_sessions, &n_of_sessions, &error) != BF_STORE_OK) _exit(4);
    if (n_of_sessions != expected) _exit(5);
    if (bf_store_export(store, NULL, BF_EXPORT_CSV, write_text, &sink, &n, &error) != BF_STORE_OK) _exit(6);
    if (bf_store_check(store, NULL, NULL, &state, &error) != BF_STORE_OK || state.events != expected)
        _exit(7);
    if (state.database || state.damaged || state.derived) _exit(8);
    if (bf_store_add(store, line_of(9), strlen(line_of(9)), &taken, &error) != BF_STORE_READ_ONLY) _exit(9);
    if (!strstr(error.sentence, at("j.db"))) _exit(10);
    bf_store_close(store);
}

static void read_what_was_there(void) {
    read_as_nobody(N_BEFORE, 0);
}

static void a_journal_that_cannot_be_written_is_read_all_the_same(void **state) {
    (void)state;
    static const struct { mode_t folder, file; } modes[] = {{0777, 0444}, {0555, 0666}, {0555, 0444}};
    start_over(N_BEFORE);
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        assert_int_equal(chmod(at("j.db"), modes[i].file), 0);
        assert_int_equal(chmod(folder, modes[i].folder), 0);
        as_nobody(read_what_was_there);
        assert_int_equal(n_files(), 1);
    }
    assert_int_equal(chmod(folder, 0700), 0);
    assert_int_equal(chmod(at("j.db"), 0600), 0);
    int acknowledged[N_BEFORE + 1] = {0, 1, 1, 1, 1, 1};
    nothing_is_lost(N_BEFORE, acknowledged);
}

static void read_all_or_be_refused(void) {
    read_as_nobody(N_BEFORE + 1, 1);
}

/* Another program's last entry may so far be in its log alone: it is read with the others, or nothing is. */
static void an_entry_in_another_programs_log_is_never_missing(void **state) {
    (void)state;
    static const mode_t log_modes[] = {0666, 0444, 0};
    start_over(N_BEFORE);
    bf_store *other = opened(at("j.db"));
    added(other, line_of(N_BEFORE + 1));
    for (size_t i = 0; i < sizeof log_modes / sizeof log_modes[0]; i++) {
        assert_int_equal(chmod(at("j.db"), 0444), 0);
        assert_int_equal(chmod(at("j.db-wal"), log_modes[i]), 0);
        assert_int_equal(chmod(at("j.db-shm"), log_modes[i]), 0);
        assert_int_equal(chmod(folder, 0555), 0);
        as_nobody(read_all_or_be_refused);
        assert_int_equal(chmod(folder, 0700), 0);
    }
    bf_store_close(other);
    assert_int_equal(chmod(at("j.db"), 0600), 0);
    int acknowledged[N_BEFORE + 2] = {0, 1, 1, 1, 1, 1, 1};
    nothing_is_lost(N_BEFORE + 1, acknowledged);
}

/* ---- Locks ---- */

static void a_database_locked_by_another_is_said_and_can_be_used_again(void **state) {
    (void)state;
    sqlite3 *other;
    bf_store_error error;
    bf_taken taken;
    bf_import counts;
    start_over(N_BEFORE);
    bf_store *store = opened(at("j.db"));
    sqlite3_busy_timeout(store->db, 20); /* five seconds as a rule */
    assert_int_equal(sqlite3_open(at("j.db"), &other), SQLITE_OK);
    assert_int_equal(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(bf_store_add(store, line_of(6), strlen(line_of(6)), &taken, &error), BF_STORE_BUSY);
    text_source source = {.text = line_of(7), .n = strlen(line_of(7))};
    assert_int_equal(bf_store_import(store, read_text, &source, NULL, NULL, &counts, &error), BF_STORE_BUSY);
    assert_int_equal(counts.fresh, 0);
    assert_int_equal(count_of(store), N_BEFORE); /* reading goes on */
    assert_int_equal(sqlite3_exec(other, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(other);
    assert_int_equal(added(store, line_of(6)), BF_TAKEN_NEW);
    bf_store_close(store);
}

static void a_lock_that_goes_within_five_seconds_is_waited_for(void **state) {
    (void)state;
    int ready[2], status;
    char byte;
    start_over(N_BEFORE);
    assert_int_equal(pipe(ready), 0);
    pid_t child = fork();
    if (child == 0) {
        sqlite3 *other;
        if (sqlite3_open(at("j.db"), &other) || sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL))
            _exit(1);
        if (write(ready[1], "x", 1) != 1) _exit(1);
        nanosleep(&(struct timespec){0, 300000000}, NULL);
        _exit(sqlite3_exec(other, "COMMIT", NULL, NULL, NULL));
    }
    assert_int_equal(read(ready[0], &byte, 1), 1);
    bf_store *store = opened(at("j.db"));
    assert_int_equal(added(store, line_of(6)), BF_TAKEN_NEW);
    bf_store_close(store);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    close(ready[0]);
    close(ready[1]);
}

/* Eight processes make the same new database and add to it, all at once. */
static void many_may_start_and_add_at_once(void **state) {
    (void)state;
    enum { N_PROCESSES = 8, N_EACH = 10 };
    pid_t child[N_PROCESSES];
    for (int p = 0; p < N_PROCESSES; p++) {
        child[p] = fork();
        if (child[p] != 0) continue;
        bf_store *store;
        bf_store_error error;
        bf_taken taken;
        if (bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error) != BF_STORE_OK) _exit(1);
        for (int k = 1 + p * N_EACH; k <= (p + 1) * N_EACH; k++)
            if (bf_store_add(store, line_of(k), strlen(line_of(k)), &taken, &error) != BF_STORE_OK) _exit(2);
        bf_store_close(store);
        _exit(0);
    }
    for (int p = 0; p < N_PROCESSES; p++) {
        int status;
        assert_int_equal(waitpid(child[p], &status, 0), child[p]);
        assert_int_equal(status, 0);
    }
    bf_store *store = opened(at("j.db"));
    assert_int_equal(count_of(store), N_PROCESSES * N_EACH);
    is_whole(store);
    bf_store_close(store);
}

/* ---- Damage ---- */

#define PAGE 8192
#define N_LAID_OUT 400

/* Fills a page with 0xff; pages count from 0. */
static void damage(long page) {
    char junk[PAGE];
    memset(junk, 0xff, sizeof junk);
    int fd = open(at("j.db"), O_WRONLY);
    assert_int_equal(pwrite(fd, junk, PAGE, page * PAGE), PAGE);
    close(fd);
}

/* The pages that hold rows of event: leaves of a table (first byte 13) with a line in them. */
static int event_pages(const char *bytes, size_t n, long *pages, int most) {
    int found = 0;
    for (long page = 1; (size_t)page < n / PAGE && found < most; page++) {
        const char *at_page = bytes + page * PAGE;
        int has_line = 0;
        for (int i = 0; i < PAGE - 8; i++) has_line |= memcmp(at_page + i, "{\"v\":1,", 7) == 0;
        if (at_page[0] == 13 && has_line) pages[found++] = page;
    }
    return found;
}

static void a_damaged_page_hides_only_its_own_rows(void **state) {
    (void)state;
    size_t n;
    long pages[64];
    long long n_lines;
    bf_store_error error;
    start_over(N_LAID_OUT);
    char *bytes = bytes_of(at("j.db"), &n);
    int n_pages = event_pages(bytes, n, pages, 64);
    free(bytes);
    assert_in_range(n_pages, 8, 64);
    for (int i = 1; i < n_pages; i += n_pages / 4) {
        start_over(N_LAID_OUT);
        damage(pages[i]);
        bf_store *store = opened(at("j.db"));
        text_sink sink = {0};
        assert_int_equal(bf_store_export(store, NULL, BF_EXPORT_LINES, write_text, &sink, &n_lines, &error),
                         BF_STORE_DAMAGED);
        assert_in_range(n_lines, N_LAID_OUT - 40, N_LAID_OUT - 1); /* a page holds some twenty rows */
        assert_non_null(strstr(error.sentence, "the first is row"));
        bf_store_state found = checked(store);
        assert_true(found.database > 0);
        assert_int_equal(found.damaged, N_LAID_OUT - n_lines);
        bf_store_close(store);
        /* What could be saved makes a new journal. */
        bf_store *fresh = opened(at("fresh.db"));
        assert_int_equal(imported(fresh, sink.text, sink.n, NULL, NULL).fresh, n_lines);
        is_whole(fresh);
        bf_store_close(fresh);
        unlink(at("fresh.db"));
        free(sink.text);
    }
}

/* Any page at all: an error that is said, or an answer; never a crash, and never a silent loss. */
static void any_damaged_page_is_found_by_check(void **state) {
    (void)state;
    struct stat about;
    start_over(N_LAID_OUT);
    assert_int_equal(stat(at("j.db"), &about), 0);
    long n_pages = about.st_size / PAGE, step = getenv("BF_LONG") ? 1 : n_pages / 12 + 1;
    for (long page = 0; page < n_pages; page += step) {
        bf_store *store;
        bf_store_error error;
        bf_store_state found;
        start_over(N_LAID_OUT);
        damage(page);
        bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
        if (what == BF_STORE_OK) {
            what = bf_store_check(store, NULL, NULL, &found, &error);
            if (what == BF_STORE_OK) assert_true(found.database + found.damaged > 0);
            bf_store_close(store);
        }
        assert_true(what == BF_STORE_OK || what == BF_STORE_DAMAGED || what == BF_STORE_FOREIGN);
    }
}

static void a_file_cut_short_is_found(void **state) {
    (void)state;
    struct stat about;
    start_over(N_LAID_OUT);
    assert_int_equal(stat(at("j.db"), &about), 0);
    for (off_t n = about.st_size - PAGE; n > 3000; n -= about.st_size / 9) {
        bf_store *store;
        bf_store_error error;
        bf_store_state found;
        start_over(N_LAID_OUT);
        assert_int_equal(truncate(at("j.db"), n), 0);
        bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
        if (what == BF_STORE_OK) {
            what = bf_store_check(store, NULL, NULL, &found, &error);
            if (what == BF_STORE_OK) assert_true(found.database > 0);
            bf_store_close(store);
        }
        assert_true(what == BF_STORE_OK || what == BF_STORE_DAMAGED);
    }
}

/* ---- Migration under faults ---- */

static void a_migration_that_fails_leaves_schema_1_as_it_was(void **state) {
    (void)state;
    size_t n;
    char *v1 = bytes_of(BF_TEST_DATA "/logbook/v1.db", &n);
    int n_failed = 0;
    for (int nth = 1;; nth++) {
        bf_store *store;
        bf_store_error error;
        start_over(0);
        assert_int_equal(bf_file_write(at("j.db"), v1, n, 1), BF_FILE_OK);
        disk.at = nth;
        bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
        if (what == BF_STORE_OK) bf_store_close(store);
        int was_taken = disk.n_taken > 0;
        n_failed += what != BF_STORE_OK;
        no_faults();
        store = opened(at("j.db"));
        assert_int_equal(count_of(store), 40);
        is_whole(store);
        bf_store_close(store);
        if (!was_taken) break;
    }
    free(v1);
    assert_in_range(n_failed, 5, 1000);
}

int main(void) {
    put_memory();
    put_vfs();
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)
    const struct CMUnitTest tests[] = {
        TEST(every_write_sync_and_open_may_fail_while_adding),
        TEST(every_write_sync_and_open_may_fail_while_a_database_is_made),
        TEST(every_write_sync_and_open_may_fail_while_importing),
        TEST(every_allocation_may_fail_while_adding),
        TEST(every_allocation_may_fail_while_importing),
        TEST(every_allocation_may_fail_while_reading),
        TEST(a_full_disk_is_said_and_loses_nothing),
        TEST(an_export_onto_a_full_disk_leaves_no_half_file),
        TEST(a_read_only_file_or_folder_is_said),
        TEST(a_journal_that_cannot_be_written_is_read_all_the_same),
        TEST(an_entry_in_another_programs_log_is_never_missing),
        TEST(a_database_locked_by_another_is_said_and_can_be_used_again),
        TEST(a_lock_that_goes_within_five_seconds_is_waited_for),
        TEST(many_may_start_and_add_at_once),
        TEST(a_damaged_page_hides_only_its_own_rows),
        TEST(any_damaged_page_is_found_by_check),
        TEST(a_file_cut_short_is_found),
        TEST(a_migration_that_fails_leaves_schema_1_as_it_was),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
