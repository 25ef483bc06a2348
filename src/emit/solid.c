#include "emit/solid.h"

#include <math.h>
#include <string.h>

#include "emit/write/markup.h"
#include "emit/write/zip.h"

/* --- STL ------------------------------------------------------------------------------------ */

static void add_whole(struct buf *out, uint32_t value, int bytes) {
    for (int i = 0; i < bytes; i++, value >>= 8) buf_char(out, (char)(unsigned char)(value & 0xff));
}

/* IEEE 754 single precision, the lowest byte first. */
static void add_single(struct buf *out, double value) {
    float single = (float)value;
    uint32_t bits;
    memcpy(&bits, &single, sizeof bits);
    add_whole(out, bits, 4);
}

static void add_triple(struct buf *out, struct mesh_point p, double scale) {
    add_single(out, p.x * scale);
    add_single(out, p.y * scale);
    add_single(out, p.z * scale);
}

void solid_stl(struct buf *out, const struct mesh *mesh) {
    const char head[80] = "shaped body, millimetres; x aft of the nose, y to starboard, z up";
    buf_bytes(out, head, sizeof head);
    add_whole(out, (uint32_t)mesh->facet_count, 4);
    for (int i = 0; i < mesh->facet_count; i++) {
        const int *corner = mesh->facets[i].corner;
        add_triple(out, mesh_normal(mesh, i), 1);
        for (int k = 0; k < 3; k++) add_triple(out, mesh->points[corner[k]], 1e3);
        add_whole(out, 0, 2);
    }
}

/* --- 3MF ------------------------------------------------------------------------------------ */

static const char types[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\n"
    "<Default Extension=\"rels\""
    " ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\n"
    "<Default Extension=\"model\""
    " ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\n"
    "</Types>\n";

static const char relations[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\n"
    "<Relationship Id=\"model\" Target=\"/3D/3dmodel.model\""
    " Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\n"
    "</Relationships>\n";

/* Millimetres to a tenth of a micrometre, which is what a mesh's coordinates are whole numbers of.
 */
static void add_number(struct buf *out, double metres) {
    long long tenths = llround(metres * 1e7), size = tenths < 0 ? -tenths : tenths;
    char text[24], *end = text + sizeof text, *at = end;
    for (int i = 0; i < 4 || size > 0 || i == 4; i++, size /= 10) {
        if (i == 4) *--at = '.';
        *--at = (char)('0' + size % 10);
    }
    if (tenths < 0) *--at = '-';
    buf_bytes(out, at, (size_t)(end - at));
}

static void add_attribute(struct buf *out, const char *name, double metres) {
    buf_text(out, name);
    add_number(out, metres);
    buf_char(out, '"');
}

static void add_points(struct buf *out, const struct mesh *mesh) {
    buf_text(out, "<vertices>\n");
    for (int i = 0; i < mesh->point_count; i++) {
        add_attribute(out, "<vertex x=\"", mesh->points[i].x);
        add_attribute(out, " y=\"", mesh->points[i].y);
        add_attribute(out, " z=\"", mesh->points[i].z);
        buf_text(out, "/>\n");
    }
    buf_text(out, "</vertices>\n");
}

static void add_facets(struct buf *out, const struct mesh *mesh) {
    buf_text(out, "<triangles>\n");
    for (int i = 0; i < mesh->facet_count; i++) {
        const int *corner = mesh->facets[i].corner;
        buf_printf(out, "<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", corner[0], corner[1],
                   corner[2]);
    }
    buf_text(out, "</triangles>\n");
}

static struct mesh_point lowest(const struct mesh *mesh) {
    struct mesh_point low = mesh->point_count ? mesh->points[0] : (struct mesh_point){0, 0, 0};
    for (int i = 1; i < mesh->point_count; i++) {
        low.x = fmin(low.x, mesh->points[i].x);
        low.y = fmin(low.y, mesh->points[i].y);
        low.z = fmin(low.z, mesh->points[i].z);
    }
    return low;
}

static void add_build(struct buf *out, const struct mesh *mesh) {
    struct mesh_point low = lowest(mesh);
    buf_text(out, "<build>\n<item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 ");
    add_number(out, -low.x);
    buf_char(out, ' ');
    add_number(out, -low.y);
    buf_char(out, ' ');
    add_number(out, -low.z);
    buf_text(out, "\"/>\n</build>\n");
}

static void add_model(struct buf *out, const struct mesh *mesh, struct str name) {
    buf_text(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<model unit=\"millimeter\" xml:lang=\"en-GB\""
                  " xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n"
                  "<metadata name=\"Title\">");
    markup_text(out, name);
    buf_text(out, "</metadata>\n<resources>\n<object id=\"1\" type=\"model\">\n<mesh>\n");
    add_points(out, mesh);
    add_facets(out, mesh);
    buf_text(out, "</mesh>\n</object>\n</resources>\n");
    add_build(out, mesh);
    buf_text(out, "</model>\n");
}

void solid_3mf(struct buf *out, const struct mesh *mesh, struct str name) {
    struct buf model = {.arena = out->arena};
    add_model(&model, mesh, name);
    struct zip_part parts[] = {{"[Content_Types].xml", str_of(types)},
                               {"_rels/.rels", str_of(relations)},
                               {"3D/3dmodel.model", buf_whole(&model)}};
    zip_write(out, parts, 3);
}
