/* Everything that can go wrong below the store: writes, syncs, opens and allocations failing one by one; a full disk. Read-only places, locks,
 * damage: refused_test.c. Afterwards every acknowledged event is there, the database is whole, and the error was said. */
#define _XOPEN_SOURCE 700

#include "logbook/before.h"

#include <signal.h>
#include <sys/resource.h>

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

static void begin(int n_before) {
    no_faults();
    start_over(n_before);
    no_faults();
}

/* ---- What is tried under faults ---- */

#define N_ADDED 6
#define N_IMPORTED 120

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

typedef void (*trial)(int from, int n, int *acknowledged, int is_memory);

/* Lets each chance fail in turn, once and lastingly, until a run has none left. By default later chances are sampled. Returns
 * how many faults were taken. */
static int with_each_fault(fault_plan *plan, trial attempt, int n_before, int n) {
    int n_faults = 0, step = 1;
    for (int is_lasting = 0; is_lasting < 2; is_lasting++)
        for (int nth = 1;; nth += step) {
            int acknowledged[N_BEFORE + N_IMPORTED + 1] = {0};
            begin(n_before);
            for (int k = 1; k <= n_before; k++) acknowledged[k] = 1;
            plan->at = nth;
            plan->is_lasting = is_lasting;
            attempt(n_before + 1, n, acknowledged, plan == &memory);
            int was_taken = plan->n_taken > 0;
            no_faults();
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
        begin(N_BEFORE);
        memory.at = nth;
        if (bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error) == BF_STORE_OK) {
            read_everything(store);
            bf_store_close(store);
        }
        int was_taken = memory.n_taken > 0, acknowledged[N_BEFORE + 1] = {0, 1, 1, 1, 1, 1};
        no_faults();
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
    begin(0);
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
    no_faults();
    nothing_is_lost(N_IMPORTED, acknowledged);
}

static void an_export_onto_a_full_disk_leaves_no_half_file(void **state) {
    (void)state;
    struct rlimit before, tight;
    long long n;
    bf_store_error error;
    begin(0);
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

/* ---- Migration under faults ---- */

static void a_migration_that_fails_leaves_schema_1_as_it_was(void **state) {
    (void)state;
    size_t n;
    char *v1 = bytes_of(BF_TEST_DATA "/logbook/v1.db", &n);
    int n_failed = 0;
    for (int nth = 1;; nth++) {
        bf_store *store;
        bf_store_error error;
        begin(0);
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
        TEST(a_migration_that_fails_leaves_schema_1_as_it_was),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
