/* Only in a sanitized build: what the leak finder is not to report. fontconfig keeps its caches until the end. */
const char *__lsan_default_suppressions(void);

const char *__lsan_default_suppressions(void) {
    return "leak:libfontconfig\n";
}
