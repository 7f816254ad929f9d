/* Only in a sanitized build: what the leak finder is not to report. fontconfig keeps its caches until the end. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_options(void);

const char *__lsan_default_suppressions(void) {
    return "leak:libfontconfig\n";
}

/* Not a word about it on standard error. */
const char *__lsan_default_options(void) {
    return "print_suppressions=0";
}
