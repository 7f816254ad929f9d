/* status.h -- one enum of what can go wrong with data, for the whole program.
 *
 * Bad data returns a bf_status; a broken program trips BF_ASSERT. Nothing in core or text prints,
 * exits or sets errno. On any error the out struct is written with NaN, zero or empty, never left stale.
 */
#ifndef BAITFALL_STATUS_H
#define BAITFALL_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, words): the words complete the sentence "... because the value ". */
#define BF_STATUS_LIST(X)                                                                                    \
    X(BF_OK, "is fine")                                                                                      \
    X(BF_E_NOT_FINITE, "is not a finite number")                                                             \
    X(BF_E_RANGE, "is outside the accepted range")                                                           \
    X(BF_E_MODEL_RANGE, "leads outside the range where the model holds")                                     \
    X(BF_E_NO_CONVERGE, "made a solver stop without an answer")                                              \
    X(BF_E_SPACE, "does not fit in the space given")                                                         \
    X(BF_E_SYNTAX, "is not well-formed")                                                                     \
    X(BF_E_KEY, "has no such key here")                                                                      \
    X(BF_E_UNIT, "has the wrong unit")                                                                       \
    X(BF_E_TYPE, "has the wrong type")                                                                       \
    X(BF_E_CHOICE, "is not one of the words known here")                                                     \
    X(BF_E_MISSING, "is missing")                                                                            \
    X(BF_E_TWICE, "is given twice")                                                                          \
    X(BF_E_COUNT, "is one too many")                                                                         \
    X(BF_E_DATA, "cannot be explained by the model")

typedef enum bf_status {
#define BF_STATUS_NAME(name, words) name,
    BF_STATUS_LIST(BF_STATUS_NAME)
#undef BF_STATUS_NAME
        BF_N_STATUS
} bf_status;

/* The words of BF_STATUS_LIST; static, never NULL for a status of the enum. */
const char *bf_status_words(bf_status status);

#if defined(__GNUC__)
#define BF_CHECK __attribute__((warn_unused_result))
#else
#define BF_CHECK
#endif

/* A broken program stops here, natively and in wasm, without pulling in any output code. */
#define BF_ASSERT(truth) ((truth) ? (void)0 : __builtin_trap())

#ifdef __cplusplus
}
#endif
#endif
