/* draw_scenes FOLDER N -- writes the pictures of N random scenes, above-K.svg and side-K.svg, each with its style,
 * and the everyday pictures in the three looks; of each drawing of a plan and of the bed N, and of each drawing of the record N / 4. The overlap checks look at them in real renderers. */
#include "../bed_scenes.h"
#include "../plan_kinds.h"
#include "../record_kinds.h"

static char svg[BF_RECORD_SVG_BYTES], styled[BF_RECORD_SVG_BYTES + 32 * 1024];

static int save(const char *folder, const char *name, int n, size_t n_svg) {
    size_t n_styled;
    if (bf_picture_with_style(svg, n_svg, styled, sizeof styled, &n_styled) != BF_OK) return 1;
    char path[512];
    snprintf(path, sizeof path, "%s/%s-%d.svg", folder, name, n);
    FILE *file = fopen(path, "w");
    if (!file) return 1;
    int is_bad = fwrite(styled, 1, n_styled, file) != n_styled;
    return (fclose(file) != 0) | is_bad;
}

int main(int argc, char **argv) {
    if (argc != 3) {
        fputs("usage: draw_scenes FOLDER N\n", stderr);
        return 2;
    }
    static scene_above above;
    static bf_side_view side;
    bf_labels labels;
    bf_picture picture;
    void *work = malloc(bf_picture_work_bytes());
    int n_scenes = atoi(argv[2]), n_bad = 0;
    for (int n = 0; n < n_scenes; n++) {
        scene_labels(n, &labels);
        scene_above_random(n, &above);
        n_bad +=
            bf_picture_above(&above.view, above.density, &labels, work, svg, sizeof svg, &picture) != BF_OK ||
            save(argv[1], "above", n, picture.n_svg);
        scene_side_random(n, &side);
        n_bad += bf_picture_side(&side, &labels, svg, sizeof svg, &picture) != BF_OK ||
                 save(argv[1], "side", n, picture.n_svg);
    }
    scene_labels_everyday(&labels);
    scene_above_everyday(&above);
    scene_side_everyday(&side);
    for (int look = BF_LOOK_SHADE; look <= BF_LOOK_DUSK; look++) {
        above.view.look = side.look = look;
        n_bad +=
            bf_picture_above(&above.view, above.density, &labels, work, svg, sizeof svg, &picture) != BF_OK ||
            save(argv[1], "everyday-above", look, picture.n_svg);
        n_bad += bf_picture_side(&side, &labels, svg, sizeof svg, &picture) != BF_OK ||
                 save(argv[1], "everyday-side", look, picture.n_svg);
    }
    free(work);
    for (int kind = 0; kind < N_PLAN_KINDS; kind++)
        for (int n = 0; n < n_scenes; n++)
            n_bad += plan_kinds[kind].draw(n, 0, svg, sizeof svg, &picture) != BF_OK ||
                     save(argv[1], plan_kinds[kind].name, n, picture.n_svg);
    for (int kind = 0; kind < N_RECORD_KINDS; kind++)
        for (int n = 0; n < n_scenes / 4; n++)
            n_bad += record_kinds[kind].draw(n, 0, svg, sizeof svg, &picture) != BF_OK ||
                     save(argv[1], record_kinds[kind].name, n, picture.n_svg);
    static scene_bed bed;
    for (int kind = 0; kind < N_BED_KINDS; kind++) {
        for (int n = 0; n < n_scenes; n++) {
            scene_bed_random(n, &bed);
            n_bad += bed_kinds[kind].draw(&bed.view, svg, sizeof svg, &picture) != BF_OK ||
                     save(argv[1], bed_kinds[kind].name, n, picture.n_svg);
        }
        char name[32];
        snprintf(name, sizeof name, "everyday-%s", bed_kinds[kind].name);
        scene_bed_everyday(&bed);
        for (bed.view.look = BF_LOOK_SHADE; bed.view.look <= BF_LOOK_DUSK; bed.view.look++)
            n_bad += bed_kinds[kind].draw(&bed.view, svg, sizeof svg, &picture) != BF_OK ||
                     save(argv[1], name, bed.view.look, picture.n_svg);
    }
    if (n_bad) fprintf(stderr, "draw_scenes: %d pictures failed\n", n_bad);
    return n_bad != 0;
}
