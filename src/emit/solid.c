/* STL: 80 bytes of words, the number of faces, and of each its normal, its three corners and an
 * empty attribute; numbers little-endian whatever the machine.
 */
#include "emit/solid.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "emit/write/package.h"

/* --- STL ------------------------------------------------------------------------------------ */

static void put_u32(struct buf *out, uint32_t value) {
    for (int i = 0; i < 4; i++) buf_char(out, (char)(value >> (8 * i) & 0xff));
}

static void put_float(struct buf *out, double value) {
    float number = (float)value;
    uint32_t bits;
    memcpy(&bits, &number, sizeof bits);
    put_u32(out, bits);
}

static void put_point(struct buf *out, const struct mesh_point *point) {
    put_float(out, 1e3 * point->x);
    put_float(out, 1e3 * point->y);
    put_float(out, 1e3 * point->z);
}

static struct mesh_point normal_of(const struct mesh_point *p, const struct mesh_point *q,
                                   const struct mesh_point *r) {
    double ax = q->x - p->x, ay = q->y - p->y, az = q->z - p->z;
    double bx = r->x - p->x, by = r->y - p->y, bz = r->z - p->z;
    struct mesh_point n = {ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx};
    double size = sqrt(n.x * n.x + n.y * n.y + n.z * n.z);
    if (!(size > 0.0)) return (struct mesh_point){0.0, 0.0, 0.0};
    return (struct mesh_point){1e-3 * n.x / size, 1e-3 * n.y / size, 1e-3 * n.z / size};
}

void solid_stl(struct buf *out, const struct mesh *mesh) {
    char head[80] = "plugwright: the shaped body, millimetres";
    buf_bytes(out, head, sizeof head);
    put_u32(out, (uint32_t)mesh->face_count);
    for (int i = 0; i < mesh->face_count; i++) {
        const int *corner = mesh->faces[i].corner;
        const struct mesh_point *p = &mesh->points[corner[0]], *q = &mesh->points[corner[1]],
                                *r = &mesh->points[corner[2]];
        struct mesh_point normal = normal_of(p, q, r);
        put_point(out, &normal);
        put_point(out, p);
        put_point(out, q);
        put_point(out, r);
        buf_bytes(out, "\0\0", 2);
    }
}

/* --- 3MF ------------------------------------------------------------------------------------ */

static const char content_types[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\n"
    "  <Default Extension=\"rels\" "
    "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\n"
    "  <Default Extension=\"model\" "
    "ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\n"
    "</Types>\n";

static const char relationships[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\n"
    "  <Relationship Id=\"body\" Target=\"/3D/3dmodel.model\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\n"
    "</Relationships>\n";

/* To 0.1 micrometres. */
static void model(struct buf *out, const struct mesh *mesh) {
    buf_text(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<model unit=\"millimeter\" xml:lang=\"en\" "
                  "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n"
                  "<resources><object id=\"1\" type=\"model\"><mesh>\n<vertices>\n");
    for (int i = 0; i < mesh->point_count; i++) {
        const struct mesh_point *point = &mesh->points[i];
        buf_printf(out, "<vertex x=\"%.6f\" y=\"%.6f\" z=\"%.6f\"/>\n", 1e3 * point->x,
                   1e3 * point->y, 1e3 * point->z);
    }
    buf_text(out, "</vertices>\n<triangles>\n");
    for (int i = 0; i < mesh->face_count; i++) {
        const int *corner = mesh->faces[i].corner;
        buf_printf(out, "<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", corner[0], corner[1],
                   corner[2]);
    }
    buf_text(out, "</triangles>\n</mesh></object></resources>\n"
                  "<build><item objectid=\"1\"/></build>\n</model>\n");
}

bool solid_3mf(struct buf *out, const struct mesh *mesh) {
    struct buf body = {.arena = out->arena};
    model(&body, mesh);
    const struct package_file files[] = {
        {"[Content_Types].xml", {content_types, sizeof content_types - 1}},
        {"_rels/.rels", {relationships, sizeof relationships - 1}},
        {"3D/3dmodel.model", buf_whole(&body)}};
    return package_write(out, files, sizeof files / sizeof *files);
}
