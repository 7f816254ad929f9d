/* read_test.c -- records through JSON and back by their field tables. */
#include "common/check.h"

#include "baitfall/command.h"
#include "baitfall/plan.h"
#include "baitfall/random.h"
#include "text/fault.h"
#include "text/read.h"

#define TOKENS 8192
#define TEXT_MOST (1 << 20)

static char tokens[1 << 18];
static bfi_reader reader;

/* ---- Random records inside their tables ---- */

static uint64_t counter;

static double uniform(double least, double most) {
    double u = bf_uniform(20260411, 7, counter++);
    double x = least + u * (most - least);
    return x < least ? least : x > most ? most : x;
}

static void fill_field(const bf_field *field, void *member, int n_refs) {
    switch (field->kind) {
    case BF_REAL:
        *(double *)member = isnan(field->start) && uniform(0, 1) < 0.5 && !field->must
                                ? BF_NAN
                                : uniform(field->least, field->most);
        break;
    case BF_QUANTITY: {
        int is_unknown = uniform(0, 1) < 0.2;
        double middle = (field->usual_least + field->usual_most) / 2;
        double pm = uniform(0, 1) < 0.2 ? 0 : uniform(0, (field->most - field->least) / 4);
        *(bf_quantity *)member = (bf_quantity){is_unknown ? middle : uniform(field->least, field->most),
                                               is_unknown ? 0 : pm, is_unknown};
        break;
    }
    case BF_INSTANT: *(double *)member = floor(uniform(field->least, field->most)); break;
    case BF_INT:
    case BF_CHOICE: *(int *)member = (int)uniform(field->least, field->most + 0.999); break;
    case BF_REF: *(int *)member = n_refs ? (int)uniform(0, n_refs - 0.001) : -1; break;
    case BF_LIST: {
        bf_list *list = member;
        *list = (bf_list){(int)uniform(0, 40.999), {0}};
        for (int i = 0; i < list->n; i++) list->at[i] = uniform(field->least, field->most);
        break;
    }
    }
}

/* Every section of a schema; arrays get so many rows, or all they have room for. */
static void fill_record(const bf_schema *schema, void *record, int n_rows, int n_refs);

static void fill_rows(const bf_section *section, void *record, int n_rows, int n_refs) {
    for (int row = 0; row < n_rows; row++) {
        char *at = bf_section_row(section, record, row);
        for (int f = 0; f < section->table->n_fields; f++)
            fill_field(&section->table->field[f], at + section->table->field[f].offset, n_refs);
        if (section->parts) fill_record(section->parts, at, (row + 2) % 5, n_refs);
    }
}

static void fill_record(const bf_schema *schema, void *record, int n_rows, int n_refs) {
    for (int s = 0; s < schema->n_sections; s++) {
        const bf_section *section = &schema->section[s];
        int n = section->most == 1 ? 1 : n_rows < section->most ? n_rows : section->most;
        if (section->most > 1) *(int *)(void *)((char *)record + section->count_offset) = n;
        fill_rows(section, record, n, n_refs);
    }
}

static int is_same_field(const bf_field *field, const void *a, const void *b) {
    switch (field->kind) {
    case BF_REAL:
        return memcmp(a, b, sizeof(double)) == 0 || (isnan(*(const double *)a) && isnan(*(const double *)b));
    case BF_QUANTITY: {
        const bf_quantity *p = a, *q = b;
        return p->is_unknown == q->is_unknown && p->value == q->value && p->pm == q->pm;
    }
    case BF_LIST: {
        const bf_list *p = a, *q = b;
        return p->n == q->n && memcmp(p->at, q->at, (size_t)p->n * sizeof p->at[0]) == 0;
    }
    default: return *(const int *)a == *(const int *)b;
    }
}

static void check_same(const bf_schema *schema, const void *a, const void *b, const char *text) {
    for (int s = 0; s < schema->n_sections; s++) {
        const bf_section *section = &schema->section[s];
        assert_int_equal(bf_section_count(section, a), bf_section_count(section, b));
        for (int row = 0; row < bf_section_count(section, a); row++) {
            const char *p = bf_section_row_const(section, a, row), *q = bf_section_row_const(section, b, row);
            for (int f = 0; f < section->table->n_fields; f++) {
                const bf_field *field = &section->table->field[f];
                if (!is_same_field(field, p + field->offset, q + field->offset))
                    fail_msg("%s[%d].%s changed in %s", section->name, row, field->name, text);
            }
            if (section->parts) check_same(section->parts, p, q, text);
        }
    }
}

/* Writes a, reads it into b. */
static void round_trip(const bf_schema *schema, const bfi_names *names, const void *a, void *b) {
    static char text[TEXT_MOST];
    static const char *const none[] = {NULL};
    size_t n;
    bf_json json;
    bf_json_fault fault;
    bf_error error;
    bfi_names names_again;
    bfi_json out = bfi_json_open(text, sizeof text);
    bfi_json_record(&out, schema, names, a);
    assert_int_equal(bfi_json_done(&out, &n), BF_OK);
    assert_int_equal((int)strlen(text), (int)n);
    assert_true(bf_json_bytes(TOKENS) <= sizeof tokens);
    if (bf_json_read(text, n, tokens, TOKENS, &json, &fault))
        fail_msg("%s wanted at %zu in %s", fault.wanted, fault.at, text);
    if (bfi_read_record(&reader, &json, schema, b, none, &names_again, &error))
        fail_msg("%s in %s", error.text, text);
    check_same(schema, a, b, text);
}

static void every_request_reads_back_to_the_bit(void **state) {
    (void)state;
    for (int c = 0; c < bf_n_commands; c++)
        for (int i = 0; i < 50; i++) {
            static const bfi_names none;
            bf_stand a, b;
            bf_stand_start(&a);
            fill_record(bf_commands[c].in, &a, i % 5, 0);
            bf_stand_start(&b);
            round_trip(bf_commands[c].in, &none, &a, &b);
        }
}

static void every_plan_reads_back_to_the_bit(void **state) {
    (void)state;
    static bf_plan a, b;
    static bfi_names names;
    for (int i = 0; i < 20; i++) {
        bf_schema_start(&bf_plan_schema, &a);
        bf_schema_start(&bf_plan_schema_with_peg, &b);
        names.n = 0;
        int n_rows = 1 + i % 8;
        fill_record(&bf_plan_schema_with_peg, &a, n_rows, n_rows);
        for (int s = 0; s < bf_plan_schema.n_sections; s++) {
            const bf_section *section = &bf_plan_schema.section[s];
            // Two tables at one path are one row with one name.
            int is_first = s == 0 || strcmp(bf_plan_schema.section[s - 1].name, section->name) != 0;
            for (int row = 0; section->most > 1 && is_first && row < n_rows; row++) {
                bfi_name *name = &names.name[names.n++];
                *name = (bfi_name){section, row, {""}};
                snprintf(name->text.text, sizeof name->text.text, "%s \"%d\" \xc3\xa9", section->name, row);
            }
        }
        round_trip(&bf_plan_schema_with_peg, &names, &a, &b);
    }
}

static void read_into(const char *text, bf_scene *scene) {
    static const char *const none[] = {NULL};
    bf_json json;
    bf_json_fault fault;
    bf_error error;
    bfi_names names;
    bf_scene_start(scene);
    assert_int_equal(bf_json_read(text, strlen(text), tokens, TOKENS, &json, &fault), BF_OK);
    if (bfi_read_record(&reader, &json, &bf_spread_schema, scene, none, &names, &error))
        fail_msg("%s", error.text);
}

static void keys_with_and_without_unit_and_text_mean_the_same(void **state) {
    (void)state;
    static const char *const text[] = {
        "{\"water\":{\"depth_m\":1.5,\"depth_pm_m\":0.25}}",
        "{\"water\":{\"depth_pm_m\":0.25,\"depth_m\":1.5}}",
        "{\"water\":{\"depth\":1.5,\"depth_pm\":0.25}}",
        "{\"water\":{\"depth\":\"1.5 m\",\"depth_pm\":\"25 cm\"}}",
        "{\"water\":{\"depth\":\"150 cm give or take 250 mm\"}}",
        "{\"spot\":{\"depth\":\"1.5 give or take 0.25 m\"}}",
        "{\"water\":{\"d\\u0065pth\":1.5,\"depth_pm\":0.25}}",
    };
    for (size_t i = 0; i < sizeof text / sizeof text[0]; i++) {
        bf_scene scene;
        read_into(text[i], &scene);
        if (scene.spot.depth_m.value != 1.5 || scene.spot.depth_m.pm != 0.25 || scene.spot.depth_m.is_unknown)
            fail_msg("%s", text[i]);
    }
}

static void give_or_take_not_said_is_the_tables(void **state) {
    (void)state;
    bf_scene scene;
    read_into("{\"water\":{\"depth\":1.5,\"temp\":\"don't know\"}}", &scene);
    BF_CHECK_ABS(scene.spot.depth_m.pm, 0.05, 0);
    assert_int_equal(scene.lake.temp_c.is_unknown, 1);
    read_into("{\"water\":{\"depth\":1.5,\"depth_pm\":0,\"temp_pm\":\"9 F\"}}", &scene);
    BF_CHECK_ABS(scene.spot.depth_m.pm, 0, 0);
    BF_CHECK_REL(scene.lake.temp_c.pm, 5.0, 1e-15);
}

static void a_bait_by_name_is_the_catalogues_with_what_differs(void **state) {
    (void)state;
    bf_scene scene;
    const bf_bait *hard_4 = &bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
    read_into("{\"bait\":\"hard-4\"}", &scene);
    assert_memory_equal(&scene.bait, hard_4, sizeof *hard_4);
    read_into("{\"bait\":{\"density\":\"1.18 g/cm3 give or take 20 kg/m3\",\"id\":\"hard-4\"}}", &scene);
    BF_CHECK_ABS(scene.bait.density_kg_m3.value, 1180, 0);
    BF_CHECK_ABS(scene.bait.density_kg_m3.pm, 20, 0);
    BF_CHECK_ABS(scene.bait.diameter_m.value, hard_4->diameter_m.value, 0);
    // Without a name: the table's start values.
    read_into("{\"bait\":{\"form\":\"sphere\",\"diameter\":\"4mm\"}}", &scene);
    bf_bait start;
    bf_record_start(&bf_bait_table, &start);
    assert_int_equal(scene.bait.form, BF_SPHERE);
    BF_CHECK_ABS(scene.bait.density_kg_m3.value, start.density_kg_m3.value, 0);
}

static void a_catalogue_bait_in_a_plan_joins_its_kit(void **state) {
    (void)state;
    static const char *const none[] = {NULL};
    static const char text[] =
        "{\"feed\":[{\"spot\":\"long\",\"bait\":\"micros-2\"},{\"spot\":\"long\",\"bait\":\"own\"},"
        "{\"spot\":\"long\",\"bait\":\"micros-2\"}],\"spots\":[{\"id\":\"long\",\"depth\":1}],"
        "\"kit\":{\"baits\":[{\"id\":\"own\",\"was\":[],\"name\":\"Own\"}]}}";
    static bf_plan plan;
    bf_json json;
    bf_json_fault fault;
    bf_error error;
    bfi_names names;
    bf_schema_start(&bf_plan_schema, &plan);
    assert_int_equal(bf_json_read(text, strlen(text), tokens, TOKENS, &json, &fault), BF_OK);
    assert_int_equal(bfi_read_record(&reader, &json, &bf_plan_schema, &plan, none, &names, &error), BF_OK);
    assert_int_equal(plan.n_baits, 2);
    assert_int_equal(plan.line[0].bait, 1);
    assert_int_equal(plan.line[1].bait, 0);
    assert_int_equal(plan.line[2].bait, 1);
    assert_memory_equal(&plan.bait[1], &bf_catalogue[bf_catalogue_find("micros-2", 8)].bait, sizeof(bf_bait));
}

/* A plan from text; the first error's field and sentence, "" when there is none. */
static const char *read_plan(const char *text, bf_plan *plan) {
    static const char *const none[] = {NULL};
    static bf_error error;
    bf_json json;
    bf_json_fault fault;
    bfi_names names;
    bf_schema_start(&bf_plan_schema, plan);
    assert_int_equal(bf_json_read(text, strlen(text), tokens, TOKENS, &json, &fault), BF_OK);
    bf_status status = bfi_read_record(&reader, &json, &bf_plan_schema, plan, none, &names, &error);
    bf_fault bad;
    if (!status && bf_schema_check(&bf_plan_schema, plan, &bad)) bfi_fail_fault(&error, &names, &bad);
    if (!status && !bad.status) return "";
    return error.text;
}

static void a_rig_of_the_kit_is_read_with_its_parts(void **state) {
    (void)state;
    static bf_plan plan;
    // The elastic is named before it is known, and the rig takes it over.
    assert_string_equal(
        read_plan("{\"kit\":{\"rigs\":[{\"id\":\"one\"},{\"id\":\"two\",\"line\":{\"diameter\":\"0.15 mm\"},"
                  "\"shots\":[{\"size\":\"No 8\",\"count\":5,\"above_hook\":\"35 cm\"},"
                  "{\"mass\":\"25 mg\",\"above_hook_m\":0.15}],\"back_shots\":[{\"size\":\"No 10\","
                  "\"above_float_m\":0.2}],\"float\":{\"rating\":\"0.4 g\"},\"elastic\":\"soft\"}],"
                  "\"elastics\":[{\"id\":\"soft\",\"outer\":\"1.5 mm\"}]}}",
                  &plan),
        "");
    const bf_rig *rig = &plan.rig[1];
    assert_int_equal(plan.n_rigs, 2);
    assert_int_equal(plan.rig[0].n_shots, 0);
    assert_int_equal(rig->n_shots, 2);
    assert_int_equal(rig->n_back_shots, 1);
    assert_int_equal(rig->shot[0].count, 5);
    assert_int_equal(rig->shot[0].size, bf_shot_size_find("No 8"));
    BF_CHECK_ABS(rig->shot[0].at_m, 0.35, 0);
    BF_CHECK_REL(rig->shot[1].mass_kg, 25e-6, 1e-15);

    BF_CHECK_ABS(rig->back_shot[0].at_m, 0.2, 0);
    BF_CHECK_REL(rig->line.diameter_m, 0.15e-3, 1e-15);
    BF_CHECK_REL(rig->flt.rating_kg, 0.4e-3, 1e-15);
    BF_CHECK_REL(rig->elastic.outer_m, 1.5e-3, 1e-15);
}

static void an_error_in_a_rig_names_where_it_is(void **state) {
    (void)state;
    static bf_plan plan;
    static const struct {
        const char *rig, *begins;
    } bad[] = {
        {"\"shots\":[{\"size\":\"No 8\",\"above_hook_m\":-1}]",
         "kit.rigs[1].shots[0].above_hook_m is -1 m; accepted is "},
        {"\"shots\":[{\"size\":\"No 8\"},{\"size\":\"No 7.5\"}]",
         "kit.rigs[1].shots[1].size is \"No 7.5\", which is not one of the words known here; accepted is "},
        {"\"line\":{\"diameter_m\":0.5}", "kit.rigs[1].line.diameter_m is 50 cm; accepted is "},
        {"\"line\":{\"colour\":1}", "kit.rigs[1].line.colour is not a key known here; accepted is "},
        {"\"reel\":{}", "kit.rigs[1].reel is not a key known here; accepted is tip_to_float_m, "},
        {"\"line\":{\"diameter\":\"0.1 mm\",\"diameter_m\":1e-4}",
         "kit.rigs[1].line.diameter_m is given twice; accepted is one value."},
        {"\"elastic\":\"none\"", "kit.rigs[1].elastic is \"none\", which is not one of the words known here; "
                                 "accepted is an id out of "
                                 "kit.elastics, which is empty."},
        {"\"line\":{\"strength_pm_frac\":9}", "kit.rigs[1].line.strength_pm_frac is 9; accepted is "},
        {"\"shots\":5", "kit.rigs[1].shots is 5, which has the wrong type; accepted is an array of objects."},
        {"\"shots\":[{},{},{},{},{},{},{},{},{},{},{},{},{}]",
         "kit.rigs[1].shots[12] is one too many; accepted is up to 12 rows."},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        char text[1024];
        snprintf(text, sizeof text, "{\"kit\":{\"rigs\":[{\"id\":\"one\"},{\"id\":\"two\",%s}]}}",
                 bad[i].rig);
        const char *said = read_plan(text, &plan);
        if (strncmp(said, bad[i].begins, strlen(bad[i].begins)) != 0)
            fail_msg("%s\nwanted %s\ngot    %s", bad[i].rig, bad[i].begins, said);
    }
}

static void a_catalogue_rig_in_a_plan_joins_its_kit(void **state) {
    (void)state;
    static bf_plan plan;
    assert_string_equal(
        read_plan("{\"spots\":[{\"id\":\"a\",\"depth\":1,\"rig\":\"middle\",\"hook_bait\":\"own\","
                  "\"aim\":{\"ship_pm\":\"5 cm\",\"ship\":0}}],"
                  "\"kit\":{\"baits\":[{\"id\":\"own\",\"density\":1111}]}}",
                  &plan),
        "");
    assert_int_equal(plan.n_rigs, 1);
    assert_int_equal(plan.spot_use[0].rig, 0);
    BF_CHECK_REL(plan.rig[0].flt.rating_kg, 0.4e-3, 1e-15);
    // A hook bait may be one of the baits that are fed.
    assert_int_equal(plan.n_hook_baits, 1);
    BF_CHECK_ABS(plan.hook_bait[plan.spot_use[0].hook_bait].density_kg_m3.value, 1111, 0);
    BF_CHECK_REL(plan.spot_use[0].aim.ship_m.pm, 0.05, 1e-15);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_request_reads_back_to_the_bit),
        cmocka_unit_test(every_plan_reads_back_to_the_bit),
        cmocka_unit_test(keys_with_and_without_unit_and_text_mean_the_same),
        cmocka_unit_test(give_or_take_not_said_is_the_tables),
        cmocka_unit_test(a_bait_by_name_is_the_catalogues_with_what_differs),
        cmocka_unit_test(a_catalogue_bait_in_a_plan_joins_its_kit),
        cmocka_unit_test(a_rig_of_the_kit_is_read_with_its_parts),
        cmocka_unit_test(an_error_in_a_rig_names_where_it_is),
        cmocka_unit_test(a_catalogue_rig_in_a_plan_joins_its_kit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
