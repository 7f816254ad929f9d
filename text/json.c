/* json.c -- see baitfall/json.h. */
#include "baitfall/json.h"

#include <stdint.h>
#include <string.h>

#define JSMN_STATIC
#define JSMN_STRICT
#define JSMN_PARENT_LINKS // without them a flat text takes quadratic time
#include <jsmn.h>

#include "baitfall/number.h"
#include "core/picture/svg.h"

/* ---- Grammar ---- */

typedef struct scanner {
    const char *text;
    size_t n, at;
    const char *wanted; /* set by the first error */
    bf_status status;
} scanner;

static int refuse(scanner *s, bf_status status, const char *wanted) {
    s->status = status;
    s->wanted = wanted;
    return 0;
}

static int peek(const scanner *s) {
    return s->at < s->n ? (unsigned char)s->text[s->at] : -1;
}

static void skip_blanks(scanner *s) {
    while (peek(s) == ' ' || peek(s) == '\t' || peek(s) == '\n' || peek(s) == '\r') s->at++;
}

static int hex_digit(int c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

/* The 16 bits of \uXXXX at text (n bytes left), -1 when it is none. */
static int hex_unit(const char *text, size_t n) {
    int unit = 0;
    if (n < 6 || text[0] != '\\' || text[1] != 'u') return -1;
    for (int i = 2; i < 6; i++) {
        int digit = hex_digit((unsigned char)text[i]);
        if (digit < 0) return -1;
        unit = unit * 16 + digit;
    }
    return unit;
}

/* One character, plain or escaped, at text: its code point and its length in bytes; 0 when it is not well-formed. */
static size_t character(const char *text, size_t n, unsigned int *code) {
    static const char escapes[] = "\"\\/bfnrt", plain[] = "\"\\/\b\f\n\r\t";
    if (text[0] != '\\') {
        const char *after = text;
        *code = bfi_utf8_next(&after, text + n);
        int is_broken = *code == 0xFFFD && after == text + 1;
        return is_broken || *code < 0x20 ? 0 : (size_t)(after - text);
    }
    int high = hex_unit(text, n);
    if (high >= 0) {
        *code = (unsigned int)high;
        if (high < 0xD800 || high > 0xDFFF) return high ? 6 : 0;
        int low = high < 0xDC00 ? hex_unit(text + 6, n - 6) : -1;
        if (low < 0xDC00 || low > 0xDFFF) return 0;
        *code = 0x10000 + ((unsigned int)(high - 0xD800) << 10) + (unsigned int)(low - 0xDC00);
        return 12;
    }
    const char *found = n > 1 && text[1] ? strchr(escapes, text[1]) : NULL;
    if (!found) return 0;
    *code = (unsigned char)plain[found - escapes];
    return 2;
}

static int scan_string(scanner *s) {
    for (s->at++; peek(s) != '"';) {
        unsigned int code;
        int c = peek(s);
        if (c >= 0x20 && c < 0x7F && c != '\\') { // the most of most text
            s->at++;
            continue;
        }
        if (s->at == s->n) return refuse(s, BF_E_SYNTAX, "a closing quote");
        size_t n = character(s->text + s->at, s->n - s->at, &code);
        if (!n)
            return refuse(s, BF_E_SYNTAX,
                          peek(s) == '\\'  ? "a valid escape"
                          : peek(s) < 0x20 ? "an escape instead of a control character"
                                           : "valid UTF-8");
        s->at += n;
    }
    s->at++;
    return 1;
}

static int scan_word(scanner *s, const char *word) {
    size_t n = strlen(word);
    if (s->n - s->at < n || memcmp(s->text + s->at, word, n) != 0) return refuse(s, BF_E_SYNTAX, "a value");
    s->at += n;
    return 1;
}

/* A value that holds no others. */
static int scan_plain(scanner *s) {
    int c = peek(s);
    if (c == '"') return scan_string(s);
    if (c == 't') return scan_word(s, "true");
    if (c == 'f') return scan_word(s, "false");
    if (c == 'n') return scan_word(s, "null");
    size_t n = s->at < s->n ? bf_number_span(s->text + s->at, s->n - s->at) : 0;
    if (!n) return refuse(s, BF_E_SYNTAX, "a value");
    s->at += n;
    return 1;
}

static int scan_key(scanner *s) {
    skip_blanks(s);
    if (peek(s) != '"') return refuse(s, BF_E_SYNTAX, "a key in double quotes");
    if (!scan_string(s)) return 0;
    skip_blanks(s);
    if (peek(s) != ':') return refuse(s, BF_E_SYNTAX, "a colon");
    s->at++;
    return 1;
}

/* Everything from the opening of the root to its end. */
static int scan_root(scanner *s) {
    char closing[BF_JSON_NEST_MOST]; // of the objects and arrays that are open
    int depth = 0, is_fresh;
    skip_blanks(s);
    if (peek(s) != '{') return refuse(s, BF_E_SYNTAX, "an object");
    do {
        // A value: either it opens, or it stands alone.
        skip_blanks(s);
        is_fresh = peek(s) == '{' || peek(s) == '[';
        if (is_fresh) {
            if (depth == BF_JSON_NEST_MOST) return refuse(s, BF_E_SPACE, "nesting of at most 16");
            closing[depth++] = peek(s) == '{' ? '}' : ']';
            s->at++;
        } else if (!scan_plain(s)) {
            return 0;
        }
        // Then what closes, and the comma before the next value.
        for (skip_blanks(s); depth && peek(s) == closing[depth - 1]; skip_blanks(s)) {
            s->at++;
            depth--;
            is_fresh = 0;
        }
        if (!depth) break;
        if (!is_fresh) {
            if (peek(s) != ',')
                return refuse(s, BF_E_SYNTAX, closing[depth - 1] == '}' ? "a comma or }" : "a comma or ]");
            s->at++;
        }
    } while (closing[depth - 1] == ']' || scan_key(s));
    if (s->wanted) return 0;
    return s->at == s->n || refuse(s, BF_E_SYNTAX, "the end");
}

/* ---- Tokens ---- */

static jsmntok_t *token_of(const bf_json *json, int i) {
    BF_ASSERT(i >= 0 && i < json->n_tokens);
    return (jsmntok_t *)json->tokens + i;
}

static int is_key(const bf_json *json, int i) {
    int parent = token_of(json, i)->parent;
    return parent >= 0 && token_of(json, parent)->type == JSMN_OBJECT;
}

/* Order of two keys: by object, then by decoded text. */
static int compare_keys(bf_json *json, int a, int b) {
    const jsmntok_t *x = token_of(json, a), *y = token_of(json, b);
    if (x->parent != y->parent) return x->parent < y->parent ? -1 : 1;
    const char *p = json->text + x->start, *p_end = json->text + x->end;
    const char *q = json->text + y->start, *q_end = json->text + y->end;
    while (p < p_end && q < q_end) {
        json->n_steps++;
        if (*p != '\\' && *q != '\\') { // the order of UTF-8 bytes is that of the characters
            if (*p != *q) return (unsigned char)*p < (unsigned char)*q ? -1 : 1;
            p++;
            q++;
            continue;
        }
        unsigned int c, d;
        p += character(p, (size_t)(p_end - p), &c);
        q += character(q, (size_t)(q_end - q), &d);
        if (c != d) return c < d ? -1 : 1;
    }
    return (p < p_end) - (q < q_end);
}

static void sift_down(bf_json *json, int *heap, int at, int n) {
    for (int child; (child = 2 * at + 1) < n; at = child) {
        json->n_steps++;
        if (child + 1 < n && compare_keys(json, heap[child + 1], heap[child]) > 0) child++;
        if (compare_keys(json, heap[child], heap[at]) <= 0) return;
        int swap = heap[child];
        heap[child] = heap[at];
        heap[at] = swap;
    }
}

#define FEW_KEYS 64

/* The same for equal keys without escapes: object, length, first and last byte. */
static uint64_t key_print(const bf_json *json, int key) {
    const jsmntok_t *token = token_of(json, key);
    int n = token->end - token->start;
    uint64_t first = n ? (unsigned char)json->text[token->start] : 0;
    uint64_t last = n ? (unsigned char)json->text[token->end - 1] : 0;
    return (uint64_t)token->parent << 32 | ((uint64_t)n << 16 & 0xffff0000) | first << 8 | last;
}

static int has_escape(const bf_json *json, int key) {
    const jsmntok_t *token = token_of(json, key);
    return memchr(json->text + token->start, '\\', (size_t)(token->end - token->start)) != NULL;
}

/* The second of two equal keys of one object among few, -1: there are none, -2: escapes, so look closer. */
static int repeated_of_few(bf_json *json, const int *keys, int n) {
    uint64_t print[FEW_KEYS];
    for (int i = 0; i < n; i++) {
        if (has_escape(json, keys[i])) return -2;
        print[i] = key_print(json, keys[i]);
        for (int k = 0; k < i; k++)
            if (print[k] == print[i] && compare_keys(json, keys[k], keys[i]) == 0) return keys[i];
    }
    return -1;
}

/* The second of two equal keys of one object, -1: there are none. Heap sort: no input makes it slow. */
static int repeated_key(bf_json *json, int *keys) {
    int n = 0, found = -1;
    for (int i = 0; i < json->n_tokens; i++)
        if (is_key(json, i)) keys[n++] = i;
    if (n <= FEW_KEYS) found = repeated_of_few(json, keys, n);
    if (n <= FEW_KEYS && found != -2) return found;
    found = -1;
    for (int i = n / 2; i-- > 0;) sift_down(json, keys, i, n);
    for (int m = n; m > 1;) {
        int last = keys[0];
        keys[0] = keys[--m];
        keys[m] = last;
        sift_down(json, keys, 0, m);
    }
    for (int i = 1; i < n && found < 0; i++)
        if (compare_keys(json, keys[i - 1], keys[i]) == 0)
            found = keys[i] > keys[i - 1] ? keys[i] : keys[i - 1];
    return found;
}

/* From the back: a token's subtree ends where its last child's does. */
static void link_siblings(bf_json *json) {
    for (int i = json->n_tokens; i-- > 0;) {
        int after = i + 1;
        for (int child = token_of(json, i)->size; child > 0; child--) after = json->after[after];
        json->after[i] = after;
    }
}

static size_t tokens_bytes(int most_tokens) {
    return ((size_t)most_tokens * sizeof(jsmntok_t) + 7) / 8 * 8;
}

size_t bf_json_bytes(int most_tokens) {
    return tokens_bytes(most_tokens) + (size_t)most_tokens * sizeof(int);
}

bf_status bf_json_read(const char *text, size_t n, void *memory, int most_tokens, bf_json *json,
                       bf_json_fault *fault) {
    *json = (bf_json){.text = text,
                      .n = n,
                      .tokens = memory,
                      .after = (int *)(void *)((char *)memory + tokens_bytes(most_tokens))};
    *fault = (bf_json_fault){BF_OK, 0, -1, ""};
    if (n > BF_JSON_BYTES_MOST) {
        *fault = (bf_json_fault){BF_E_SPACE, BF_JSON_BYTES_MOST, -1, "at most 1048576 bytes"};
        return fault->status;
    }
    scanner s = {text, n, 0, NULL, BF_OK};
    if (!scan_root(&s)) {
        *fault = (bf_json_fault){s.status, s.at, -1, s.wanted};
        return fault->status;
    }
    jsmn_parser parser;
    jsmn_init(&parser);
    json->n_tokens = jsmn_parse(&parser, text, n, memory, (unsigned int)most_tokens);
    if (json->n_tokens < 0) {
        BF_ASSERT(json->n_tokens == JSMN_ERROR_NOMEM);
        json->n_tokens = 0;
        *fault = (bf_json_fault){BF_E_SPACE, parser.pos, -1, "fewer values"};
        return fault->status;
    }
    json->n_steps = n + (size_t)json->n_tokens;
    int twice = repeated_key(json, json->after);
    link_siblings(json);
    if (twice >= 0) {
        *fault = (bf_json_fault){BF_E_TWICE, (size_t)token_of(json, twice)->start, twice, "each key once"};
        return fault->status;
    }
    return BF_OK;
}

/* ---- Looking at values ---- */

bf_json_kind bf_json_kind_of(const bf_json *json, int value) {
    const jsmntok_t *token = token_of(json, value);
    switch (token->type) {
    case JSMN_OBJECT: return BF_JSON_OBJECT;
    case JSMN_ARRAY: return BF_JSON_ARRAY;
    case JSMN_STRING: return BF_JSON_STRING;
    default: break;
    }
    switch (json->text[token->start]) {
    case 't': return BF_JSON_TRUE;
    case 'f': return BF_JSON_FALSE;
    case 'n': return BF_JSON_NULL;
    default: return BF_JSON_NUMBER;
    }
}

int bf_json_first(const bf_json *json, int value) {
    const jsmntok_t *token = token_of(json, value);
    int holds = token->type == JSMN_OBJECT || token->type == JSMN_ARRAY;
    return holds && token->size > 0 ? value + 1 : -1;
}

int bf_json_next(const bf_json *json, int element) {
    int after = json->after[element];
    if (after >= json->n_tokens) return -1;
    return token_of(json, after)->parent == token_of(json, element)->parent ? after : -1;
}

int bf_json_find(const bf_json *json, int object, const char *key) {
    for (int i = bf_json_first(json, object); i >= 0; i = bf_json_next(json, i))
        if (bf_json_is(json, i, key)) return i + 1;
    return -1;
}

const char *bf_json_raw(const bf_json *json, int value, size_t *n) {
    const jsmntok_t *token = token_of(json, value);
    int quote = token->type == JSMN_STRING;
    *n = (size_t)(token->end - token->start + 2 * quote);
    return json->text + token->start - quote;
}

static size_t encode(unsigned int code, char out[4]) {
    if (code < 0x80) {
        out[0] = (char)code;
        return 1;
    }
    size_t n = code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    static const unsigned char lead[] = {0, 0, 0xC0, 0xE0, 0xF0};
    for (size_t i = n; i-- > 1; code >>= 6) out[i] = (char)(0x80 | (code & 0x3F));
    out[0] = (char)(lead[n] | code);
    return n;
}

/* Appends what fits of n bytes, cut before a character; 0 when not all did. */
static int append(char *out, size_t most, size_t *n_out, const char *bytes, size_t n) {
    size_t fits = most - 1 - *n_out < n ? most - 1 - *n_out : n;
    while (fits < n && fits && ((unsigned char)bytes[fits] & 0xC0) == 0x80) fits--;
    memcpy(out + *n_out, bytes, fits);
    *n_out += fits;
    out[*n_out] = 0;
    return fits == n;
}

bf_status bf_json_decode(const char *inside, size_t n, char *out, size_t most) {
    const char *at = inside, *end = inside + n;
    size_t n_out = 0;
    BF_ASSERT(most);
    out[0] = 0;
    while (at < end) {
        // A run without escapes stands for itself.
        const char *escape = memchr(at, '\\', (size_t)(end - at));
        const char *stop = escape ? escape : end;
        if (!append(out, most, &n_out, at, (size_t)(stop - at))) return BF_E_SPACE;
        at = stop;
        if (!escape) break;
        unsigned int code;
        char bytes[4];
        at += character(at, (size_t)(end - at), &code);
        if (!append(out, most, &n_out, bytes, encode(code, bytes))) return BF_E_SPACE;
    }
    return BF_OK;
}

bf_status bf_json_string(const bf_json *json, int string, char *out, size_t most) {
    const jsmntok_t *token = token_of(json, string);
    BF_ASSERT(token->type == JSMN_STRING);
    return bf_json_decode(json->text + token->start, (size_t)(token->end - token->start), out, most);
}

int bf_json_is(const bf_json *json, int string, const char *text) {
    const jsmntok_t *token = token_of(json, string);
    if (token->type != JSMN_STRING) return 0;
    const char *p = json->text + token->start, *end = json->text + token->end;
    while (p < end) {
        if (*p != '\\') { // stands for itself
            if (*p++ != *text++) return 0;
            continue;
        }
        unsigned int code;
        char bytes[4];
        p += character(p, (size_t)(end - p), &code);
        size_t n = encode(code, bytes);
        if (strncmp(text, bytes, n) != 0) return 0;
        text += n;
    }
    return !*text;
}

bf_status bf_json_number(const bf_json *json, int value, double *number) {
    size_t n;
    const char *raw = bf_json_raw(json, value, &n);
    return bf_number_read(raw, n, number);
}

/* ---- Paths ---- */

static void put_index(bfi_pen *pen, int index) {
    char text[BF_NUMBER_MOST];
    bfi_put(pen, "[");
    bfi_put_bytes(pen, text, bf_number_fixed(index, 0, text));
    bfi_put(pen, "]");
}

static void put_step(const bf_json *json, int i, bfi_pen *pen) {
    int parent = token_of(json, i)->parent;
    if (token_of(json, parent)->type == JSMN_ARRAY) {
        int index = 0;
        for (int k = parent + 1; k != i; k = json->after[k]) index++;
        put_index(pen, index);
        return;
    }
    if (pen->n) bfi_put(pen, ".");
    bf_status status = bf_json_string(json, i, pen->at + pen->n, pen->most - pen->n);
    pen->is_short |= status != BF_OK;
    pen->n += strlen(pen->at + pen->n);
}

void bf_json_path(const bf_json *json, int value, char *out, size_t most) {
    int chain[2 * BF_JSON_NEST_MOST + 2], n = 0;
    for (int i = value; token_of(json, i)->parent >= 0; i = token_of(json, i)->parent) {
        int parent = token_of(json, i)->parent;
        int is_step = token_of(json, parent)->type != JSMN_STRING; // the value of a key is named by the key
        if (is_step) chain[n++] = i;
    }
    bfi_pen pen = bfi_pen_open(out, most);
    while (n && !pen.is_short) put_step(json, chain[--n], &pen);
}
