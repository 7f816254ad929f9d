/* remarks.c -- see remarks.h. */
#include "cli/remarks.h"

#include <stdio.h>
#include <string.h>

#include "cli/show.h"

static void add_remark(cli_remarks *all, const char *text, const char *of) {
    for (int k = 0; k < all->n; k++)
        if (strcmp(all->at[k].text, text) == 0) {
            all->at[k].of[0] = 0;
            return;
        }
    cli_remark *new = &all->at[all->n++];
    snprintf(new->text, sizeof new->text, "%s", text);
    snprintf(new->of, sizeof new->of, "%s", of);
}

void cli_add_remarks(cli_remarks *all, const bf_json *json, int object, const char *of) {
    int notes = bf_json_find(json, object, "notes");
    for (int i = notes < 0 ? -1 : bf_json_first(json, notes); i >= 0; i = bf_json_next(json, i)) {
        char text[sizeof all->at[0].text];
        add_remark(all, cli_text(json, i, "text", text, sizeof text), of);
    }
}

void cli_show_remarks(const cli_remarks *all) {
    for (int k = 0; k < all->n; k++) {
        const cli_remark *remark = &all->at[k];
        char text[sizeof remark->text + sizeof remark->of + 2];
        snprintf(text, sizeof text, "%s%s%s", remark->of, remark->of[0] ? ": " : "", remark->text);
        cli_show_wrapped("  - ", text);
    }
}
