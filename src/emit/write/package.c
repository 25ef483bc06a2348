#include "emit/write/package.h"

#include <zip.h>

enum { FIRST_OF_JANUARY_1980 = 1 << 5 | 1 }; /* year from 1980 in bits 9 on, month from 5, day */

static bool add_file(zip_t *archive, const struct package_file *file) {
    zip_source_t *source = zip_source_buffer(archive, file->bytes.data, file->bytes.size, 0);
    if (!source) return false;
    zip_int64_t index = zip_file_add(archive, file->path, source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
        zip_source_free(source);
        return false;
    }
    return zip_file_set_dostime(archive, (zip_uint64_t)index, 0, FIRST_OF_JANUARY_1980, 0) == 0;
}

static bool copy_out(struct buf *out, zip_source_t *whole) {
    char block[1 << 14];
    zip_int64_t got;
    if (zip_source_open(whole) < 0) return false;
    while ((got = zip_source_read(whole, block, sizeof block)) > 0)
        buf_bytes(out, block, (size_t)got);
    zip_source_close(whole);
    return got == 0;
}

bool package_write(struct buf *out, const struct package_file *files, int count) {
    zip_source_t *whole = zip_source_buffer_create(NULL, 0, 0, NULL);
    zip_t *archive = whole ? zip_open_from_source(whole, ZIP_TRUNCATE, NULL) : NULL;
    if (!archive) {
        if (whole) zip_source_free(whole);
        return false;
    }
    zip_source_keep(whole); /* past the archive, to be read */
    bool fine = true;
    for (int i = 0; i < count && fine; i++) fine = add_file(archive, &files[i]);
    if (!fine || zip_close(archive) != 0) {
        zip_discard(archive);
        fine = false;
    }
    fine = fine && copy_out(out, whole);
    zip_source_free(whole);
    return fine;
}
