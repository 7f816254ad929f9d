/* scene_answer.c -- fall, pot, soak, throw and spread of the feed, rig, lay and aim of what is fished over it: a request over
 * bf_stand, which begins with a bf_scene, through its command's model. */
#include <string.h>

#include "core/base/room.h"
#include "text/kit.h"
#include "text/read_parts.h"
#include "text/sight.h"
#include "text/stood.h"
#include "text/work.h"

/* ---- The request: everything a stand holds, and a kit to look names up in ---- */

typedef struct request {
    bf_stand stand; /* first: the sections of all commands hold for the request too */
    bfi_kit kit;
} request;

static const bf_section kit_sections[] = {BFI_KIT_SECTIONS(request)};
#define N_KIT_SECTIONS ((int)(sizeof kit_sections / sizeof kit_sections[0]))

#define MOST_SECTIONS 40
#define RAW_MOST 64 /* further columns of a command */

/* What stands in work->own. */
typedef struct own {
    request request;
    bf_section section[MOST_SECTIONS]; /* those of all commands, each once, then the kit's */
    bf_schema schema;
    int is_nominal;     /* at the inputs as given only */
    int is_fed_on_hook; /* no hook bait was said: it is what is fed */
    int n_sets;         /* 1, or one for every bait of the catalogue */
    bf_stand set;       /* the one that is summarised */
    bf_aiming aiming;   /* aim: the stand with its fit */
    double nominal[BF_MOST_OUTPUTS + RAW_MOST];
    bf_ensemble_result result;
} own;

static int has_section(const own *o, const bf_section *section) {
    for (int i = 0; i < o->schema.n_sections; i++)
        if (o->section[i].table == section->table && o->section[i].offset == section->offset) return 1;
    return 0;
}

static void add_sections(own *o, const bf_section *section, int n) {
    for (int i = 0; i < n; i++) {
        if (has_section(o, &section[i])) continue;
        BF_ASSERT(o->schema.n_sections < MOST_SECTIONS);
        o->section[o->schema.n_sections++] = section[i];
    }
}

static void make_schema(own *o) {
    o->schema = (bf_schema){"request", sizeof(request), o->section, 0};
    for (int i = 0; i < bf_n_commands; i++)
        add_sections(o, bf_commands[i].in->section, bf_commands[i].in->n_sections);
    add_sections(o, kit_sections, N_KIT_SECTIONS);
}

static int is_of_command(const bf_command *command, const bf_section *section) {
    for (int i = 0; i < command->in->n_sections; i++)
        if (command->in->section[i].table == section->table &&
            command->in->section[i].offset == section->offset)
            return 1;
    return 0;
}

static bf_status check_section(bfi_work *work, const own *o, const bf_section *section) {
    bf_fault fault;
    for (int row = 0; row < bf_section_count(section, &o->request); row++) {
        bf_status status = bf_row_check(section, &o->request, row, &fault);
        if (status == BF_E_MISSING && !is_of_command(work->command, section)) continue;
        if (status) return bfi_fail_fault(&work->error, &work->names, &fault);
    }
    return BF_OK;
}

/* Every section is checked; only what the command reads must be there. The kit first: what is taken from it is wrong where
 * it stands there. */
static bf_status check(bfi_work *work, const own *o) {
    int n = o->schema.n_sections, kit = n - N_KIT_SECTIONS;
    for (int i = 0; i < n; i++) {
        bf_status status = check_section(work, o, &o->section[(kit + i) % n]);
        if (status) return status;
    }
    return BF_OK;
}

static int reads(const bf_command *command, const char *path) {
    return bfi_first_section(command->in, path) != NULL;
}

/* What follows from the inputs; a feed command's shown inputs have no rig in them. */
static void settle(const bf_command *command, bf_stand *stand) {
    if (reads(command, "rig"))
        bf_stand_settle(stand);
    else
        bf_scene_settle(&stand->scene);
}

static int is_aim(const bf_command *command) {
    return command->model == bf_aim_model;
}

static int answers_for_all(const bf_command *command) {
    return strcmp(command->name, "pot") == 0;
}

static bf_status fail_without(bfi_work *work, const char *what) {
    char accepted[sizeof work->error.accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    for (int i = 0; i < bf_n_catalogue; i++) {
        bfi_put(&pen, bf_catalogue[i].word);
        bfi_put(&pen, ", ");
    }
    bfi_put(&pen, "an id of the kit or an object");
    return bfi_fail(&work->error, BF_E_MISSING, what, &work->json, -1, accepted);
}

static int is_balled(const bf_bait *bait) {
    return bait->form == BF_BALL;
}

/* On the hook is what is fed, when nothing else is said: by its name too. A ball does not go on a hook. */
static void hook_what_is_fed(bfi_work *work) {
    own *o = work->own;
    const bf_command *c = work->command;
    if (!reads(c, "bait") || !reads(c, "hook_bait") || bfi_option(work, "hook_bait") >= 0) return;
    if (bfi_option(work, "bait") < 0 || is_balled(&o->request.stand.scene.bait)) return;
    o->request.stand.hook_bait = o->request.stand.scene.bait;
    o->is_fed_on_hook = 1;
    const char *fed = bfi_name_of(&work->names, bfi_first_section(c->in, "bait"), 0);
    bfi_name name = {bfi_first_section(c->in, "hook_bait"), 0, {""}};
    bfi_cut(name.text.text, sizeof name.text.text, fed, strlen(fed));
    if (!fed[0] || work->names.n == BFI_NAMES_MOST) return;
    work->names.name[work->names.n++] = name;
}

/* What is fed has no start value worth answering for; nor has the hook bait where nothing is fed, or a ball. */
static bf_status check_baits(bfi_work *work) {
    static const char *const baits[] = {"bait", "hook_bait"};
    const own *o = work->own;
    for (int i = 0; i < 2; i++) {
        int is_missing = reads(work->command, baits[i]) && bfi_option(work, baits[i]) < 0;
        if (i == 1 && o->is_fed_on_hook) is_missing = 0;
        if (is_missing && !answers_for_all(work->command)) return fail_without(work, baits[i]);
    }
    if (reads(work->command, "hook_bait") && is_balled(&o->request.stand.hook_bait))
        return bfi_fail(&work->error, BF_E_RANGE, "hook_bait", &work->json, -1,
                        "a bait that a hook carries, which a ball is not");
    return BF_OK;
}

/* The model has no answer at the inputs as given: nearly always the bait is why, of a stand the rig. */
static bf_status fail_without_answer(bfi_work *work, bf_status status) {
    const own *o = work->own;
    const bf_stand *stand = &o->request.stand;
    if (reads(work->command, "rig") && stand->rig.tip_to_float_m < stand->hold.tip_height_m.value)
        return bfi_fail(&work->error, status, "rig.tip_to_float_m", &work->json, -1,
                        "more line from tip to float than hold.tip_height_m, the tip above the water");
    if (reads(work->command, "rig"))
        return bfi_fail(
            &work->error, status, "rig", &work->json, -1,
            "a rig that finds a balance: a float that carries what hangs on it, a line that reaches");
    return bfi_fail(&work->error, status, "bait", &work->json, -1,
                    "a bait that sinks and, by pot, goes into the pot");
}

/* aim: the fit that its draws stand on. */
static bf_status prepare(bfi_work *work) {
    own *o = work->own;
    if (o->is_nominal) {
        bf_aim_bare(&o->request.stand, &o->aiming);
        return BF_OK;
    }
    bf_status status = bf_aim_prepare(&o->request.stand, &o->aiming);
    return status ? fail_without_answer(work, status) : BF_OK;
}

static bf_status begin(bfi_work *work) {
    static const char *const options[] = {BFI_OPTION_KEYS, "look", "pictures", NULL};
    static const char *const options_of_stand[] = {BFI_OPTION_KEYS, "nominal", "look", "pictures", NULL};
    own *o = work->own;
    bfi_wanted wanted;
    int is_stand = reads(work->command, "rig");
    o->is_nominal = 0;
    o->is_fed_on_hook = 0;
    make_schema(o);
    memset(&o->request, 0, sizeof o->request);
    bf_stand_start(&o->request.stand);
    bf_status status = bfi_read_options(work, work->command->draws_start);
    if (!status && is_stand) status = bfi_read_truth(work, "nominal", &o->is_nominal);
    if (!status) status = bfi_read_pictures(work, bfi_command_sees, &wanted);
    if (!status)
        status = bfi_read_record(&work->reader, &work->json, &o->schema, &o->request,
                                 is_stand ? options_of_stand : options, &work->names, &work->error);
    if (!status) hook_what_is_fed(work);
    if (!status) status = check_baits(work);
    if (!status) status = check(work, o);
    if (status) return status;
    settle(work->command, &o->request.stand);
    if (is_aim(work->command)) status = prepare(work);
    if (status) return status;

    int has_bait = bfi_option(work, "bait") >= 0;
    o->n_sets = has_bait || !answers_for_all(work->command) ? 1 : bf_n_catalogue;
    work->n_items = o->is_nominal ? 0 : work->n_draws * o->n_sets;
    work->n_columns = work->command->out->n_fields + work->command->n_raw;
    return BF_OK;
}

/* ---- Rows ---- */

static void take_set(const own *o, const bf_command *command, int set, bf_stand *stand) {
    *stand = o->request.stand;
    if (o->n_sets == 1) return;
    stand->scene.bait = bf_catalogue[set].bait;
    settle(command, stand);
}

static bf_ensemble ensemble_of(const bfi_work *work, const bf_stand *stand) {
    const bf_command *c = work->command;
    const own *o = work->own;
    if (is_aim(c)) return bf_aim_ensemble(&o->aiming, work->seed, work->n_draws);
    return (bf_ensemble){c->in, stand, c->model, c->out->n_fields, c->n_raw, work->seed, work->n_draws};
}

/* A thread's scratch: the stand of the set it works on, then the ensemble's. */
static size_t stand_bytes(void) {
    return bfi_room(sizeof(bf_stand));
}

static size_t ensemble_bytes(const bf_command *command, int n_draws) {
    bf_ensemble ensemble = {.schema = command->in, .n_draws = n_draws};
    if (is_aim(command)) ensemble = bf_aim_ensemble(NULL, 0, n_draws);
    return bf_ensemble_work_bytes(&ensemble);
}

static size_t scratch_bytes(const bfi_work *work) {
    return stand_bytes() + ensemble_bytes(work->command, work->n_draws);
}

static void range(const bfi_work *work, void *scratch, int i, int j, double *rows) {
    bf_stand *stand = scratch;
    while (i < j) {
        int set = i / work->n_draws, from = i % work->n_draws;
        int to = j < (set + 1) * work->n_draws ? from + (j - i) : work->n_draws;
        take_set(work->own, work->command, set, stand);
        bf_ensemble ensemble = ensemble_of(work, stand);
        // A draw without an answer is a row of NaN, counted at the end.
        bf_status status = bf_ensemble_range(&ensemble, from, to, (char *)scratch + stand_bytes(), rows);
        (void)status;
        rows += (size_t)(to - from) * (size_t)work->n_columns;
        i += to - from;
    }
}

/* ---- The answer ---- */

static size_t own_bytes(const bf_command *command) {
    (void)command;
    return sizeof(own);
}

static size_t spare_bytes(const bf_command *command) {
    size_t finishing = stand_bytes() + ensemble_bytes(command, BF_DRAWS_MOST);
    size_t drawing = reads(command, "rig") ? bfi_sight_bytes() : bfi_draw_bytes(command);
    size_t mending = is_aim(command) ? bf_aim_mend_bytes(BF_MEND_DRAWS) : 0;
    size_t telling = drawing > mending ? drawing : mending;
    return finishing > telling ? finishing : telling;
}

static size_t rows_bytes(const bf_command *command) {
    size_t columns = (size_t)(command->out->n_fields + command->n_raw);
    size_t sets = answers_for_all(command) ? (size_t)bf_n_catalogue : 1;
    return BF_DRAWS_MOST * sets * columns * sizeof(double);
}

/* Draws in which an output has no answer. */
static int n_without_answer(const bf_ensemble *ensemble, const double *rows, int i_out) {
    int n = 0, n_columns = ensemble->n_out + ensemble->n_raw;
    for (int k = 0; k < ensemble->n_draws; k++) {
        double y = rows[(size_t)k * (size_t)n_columns + (size_t)i_out];
        n += y != y;
    }
    return n;
}

static bf_status summarise(bfi_work *work, const bf_ensemble *ensemble, const double *rows) {
    own *o = work->own;
    BF_ASSERT(ensemble->n_out <= BF_MOST_OUTPUTS && ensemble->n_raw <= RAW_MOST);
    bf_status status = bf_ensemble_nominal(ensemble, o->nominal);
    if (o->is_nominal)
        bfi_take_nominal(o->nominal, ensemble->n_out, &o->result);
    else
        bf_ensemble_finish(ensemble, rows, o->nominal, work->spare, &o->result);
    return status;
}

/* An output that most draws have no answer for has none: the few that have one say nothing about the rest. What is
 * computed at the inputs as given only, in no draw, stands without a range. */
static void put_outputs(bfi_work *work, const bf_ensemble *ensemble, const double *rows, bfi_json *out) {
    own *o = work->own;
    const bf_table *table = work->command->out;
    int without[BF_MOST_OUTPUTS], any = 0;
    for (int i = 0; i < ensemble->n_out; i++) {
        without[i] = o->is_nominal ? 0 : n_without_answer(ensemble, rows, i);
        if (without[i] == ensemble->n_draws && o->nominal[i] == o->nominal[i]) without[i] = 0;
        any |= without[i];
        if (2 * without[i] > ensemble->n_draws)
            o->result.range[i] = (bf_range){BF_NAN, BF_NAN, BF_NAN, BF_NAN};
        bfi_json_output(out, table, i, work->command->in, &o->result);
    }
    if (!any) return;
    bfi_json_key(out, "without_answer_frac");
    bfi_json_object(out);
    for (int i = 0; i < ensemble->n_out; i++)
        if (without[i]) bfi_json_key_real(out, table->field[i].name, (double)without[i] / ensemble->n_draws);
    bfi_json_close(out);
}

/* What the commands about a stand say beyond their outputs. */
static void put_more(bfi_work *work, const double *rows, bfi_json *out) {
    own *o = work->own;
    if (strcmp(work->command->name, "rig") == 0) bfi_json_chain(out, &o->request.stand.rig);
    if (!is_aim(work->command) || o->is_nominal) return;
    bfi_json_chance(out, rows, work->n_draws);
    bfi_json_fit(out, &o->aiming);
    bf_mend mends[BF_N_MENDS];
    bfi_json_mends(out, mends, bf_aim_mends(&o->aiming, work->seed, rows, work->n_draws, work->spare, mends));
}

/* ---- Drawings of a stand ---- */

static void label(bf_label *to, const char *text) {
    bfi_cut(to->text, sizeof to->text, text, strlen(text));
}

static void label_output(const bfi_work *work, const char *name, bf_label *to) {
    const own *o = work->own;
    const bf_table *table = work->command->out;
    for (int i = 0; i < table->n_fields; i++) {
        char text[BF_SAY_MOST];
        if (strcmp(table->field[i].name, name) != 0 || o->is_nominal) continue;
        bf_say_range_of(&table->field[i], o->result.range[i], text);
        label(to, text);
    }
}

static const char *name_at(const bfi_work *work, const char *path) {
    const bf_section *section = bfi_first_section(work->command->in, path);
    return section ? bfi_name_of(&work->names, section, 0) : "";
}

static void take_words(const bfi_work *work, bfi_sight_words *words) {
    const own *o = work->own;
    char text[BF_SAY_MOST];
    bf_quantity depth = o->request.stand.scene.spot.depth_m;
    memset(words, 0, sizeof *words);
    words->hook_bait = bf_bait_name(name_at(work, "hook_bait"));
    label(&words->feed.bait, bf_bait_name(name_at(work, "bait")));
    bf_say_range((bf_range){depth.value, depth.value, depth.value - depth.pm, depth.value + depth.pm},
                 BF_LENGTH, text);
    label(&words->feed.depth, text);
    label_output(work, "feed_s", &words->feed.time);
    label_output(work, "off_m", &words->off);
    label_output(work, "down_s", &words->down);
}

/* rig and lay in section, aim from above as well. */
static bf_status put_sights(bfi_work *work, const double *rows, bfi_json *out) {
    own *o = work->own;
    bfi_wanted wanted;
    bfi_sight *sight = work->spare;
    bfi_sight_words words;
    bf_rig_shape shape;
    bf_status status = bfi_read_pictures(work, bfi_command_sees, &wanted);
    int has_above = is_aim(work->command) && !o->is_nominal && wanted.pictures & BFI_SEE_ABOVE;
    int has_section = (wanted.pictures & BFI_SEE_SECTION) != 0;
    if (status || (!has_above && !has_section)) return status;
    bfi_sight_start(sight, wanted.look, &o->request.stand);
    if (is_aim(work->command) && !o->is_nominal)
        bfi_sight_take_aim(sight, rows, work->n_draws, work->n_columns);
    else if (strcmp(work->command->name, "rig") == 0 && !o->is_nominal)
        bfi_sight_take_rig(sight, rows, work->n_draws, work->n_columns);
    take_words(work, &words);
    bfi_json_key(out, "pictures");
    bfi_json_object(out);
    if (has_above) status = bfi_json_above(sight, &words, out);
    if (!status && has_section) status = bf_rig_solve(&o->request.stand, 1, 0, &shape);
    if (!status && has_section)
        status = bfi_json_section(sight, &shape, reads(work->command, "bait"), &words, out);
    if (status) return bfi_fail(&work->error, status, "pictures", &work->json, -1, "");
    bfi_json_close(out);
    return BF_OK;
}

static bf_status finish_one(bfi_work *work, const double *rows, bfi_json *out) {
    own *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    const bf_command *c = work->command;
    bf_ensemble ensemble = ensemble_of(work, &o->request.stand);
    bf_status status = summarise(work, &ensemble, rows);
    if (status) return fail_without_answer(work, status);
    put_outputs(work, &ensemble, rows, out);
    put_more(work, rows, out);
    bfi_json_key(out, "inputs");
    bfi_json_record(out, c->in, &work->names, &o->request.stand);
    if (!o->is_nominal) bfi_json_shares(out, c->out, c->in, &o->result);
    int n = c->notes(ensemble.record, &o->result, notes);
    BF_ASSERT(n < BF_MOST_NOTES);
    if (o->is_fed_on_hook) notes[n++] = (bf_note){BF_NOTE_HOOK_AS_FED, {0}};
    bfi_json_notes(out, notes, n);
    return reads(c, "rig") ? put_sights(work, rows, out)
                           : bfi_json_pictures(work, &ensemble, rows, &o->result, out);
}

/* One row of "each" a bait; a bait without an answer says so. The inputs are what they share: all but the bait. */
static bf_status finish_all(bfi_work *work, const double *rows, bfi_json *out) {
    own *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    bf_schema shared = *work->command->in;
    shared.section++;
    shared.n_sections--;
    bfi_json_key(out, "inputs");
    bfi_json_record(out, &shared, &work->names, &o->request.stand);
    bfi_json_key(out, "each");
    bfi_json_array(out);
    for (int set = 0; set < o->n_sets; set++) {
        take_set(o, work->command, set, &o->set);
        bf_ensemble ensemble = ensemble_of(work, &o->set);
        bf_status status = summarise(work, &ensemble, rows);
        bfi_json_object(out);
        bfi_json_key_text(out, "bait", bf_catalogue[set].word);
        bfi_json_key_text(out, "title", bf_catalogue[set].title);
        if (status)
            bfi_json_key_text(out, "error", bf_status_words(status));
        else
            put_outputs(work, &ensemble, rows, out);
        bfi_json_notes(out, notes, status ? 0 : work->command->notes(&o->set, &o->result, notes));
        bfi_json_close(out);
        rows += (size_t)work->n_draws * (size_t)work->n_columns;
    }
    bfi_json_close(out);
    return BF_OK;
}

static bf_status finish(bfi_work *work, const double *rows, bfi_json *out) {
    const own *o = work->own;
    return o->n_sets > 1 ? finish_all(work, rows, out) : finish_one(work, rows, out);
}

const bfi_verb bfi_scene_verb = {.own_bytes = own_bytes,
                                 .spare_bytes = spare_bytes,
                                 .rows_bytes = rows_bytes,
                                 .begin = begin,
                                 .scratch_bytes = scratch_bytes,
                                 .range = range,
                                 .finish = finish};
