/* rules.h -- venue rules as people write them. Internal to text/.
 *
 * Only whole phrases are understood, never words out of a sentence: "barbless hooks not needed" must not count as a rule
 * for barbless hooks. A rule that is not understood is the reader's. */
#ifndef BFI_RULES_H
#define BFI_RULES_H

#include <stddef.h>

#include "baitfall/rules.h"

/* Reads one rule (text, n bytes; capitals do not matter, nor a full stop at the end): "barbless hooks", "two nets",
 * "no pole longer than 13 m", "no more than 50 lb a net" and the sentences of rules.h with their number in.
 * Returns 1 with *rule in SI, or 0 when it is no phrase of ours, its number is none or has no such unit. */
int bfi_rule_read(const char *text, size_t n, bf_rule *rule);

/* The rule's own sentence with its number, as "No pole longer than 13 m." */
void bfi_rule_say(const bf_rule *rule, char *out, size_t most);

#endif
