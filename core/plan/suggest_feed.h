/* suggest_feed.h -- what a suggestion says about the pot. Internal. */
#ifndef BAITFALL_CORE_PLAN_SUGGEST_FEED_H
#define BAITFALL_CORE_PLAN_SUGGEST_FEED_H

#include "baitfall/suggest.h"

bf_suggested bfi_suggest_pot(const bf_scene *scene, const bf_suggest_ask *ask);

#endif
