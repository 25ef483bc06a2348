/* minizip writes to what its caller gives it as a file: here a buffer in which it may seek, for it
 * goes back to a part's head when it knows the part's sum.
 */
#include "emit/write/zip.h"

#include <minizip/zip.h>
#include <stdbool.h>
#include <string.h>

struct memory {
    struct buf *buf;
    size_t at;
};

static voidpf memory_open(voidpf opaque, const char *name, int mode) {
    (void)name, (void)mode;
    return opaque;
}

/* Nothing is ever read: archives are only made. */
static uLong memory_read(voidpf opaque, voidpf stream, void *bytes, uLong size) {
    (void)opaque, (void)stream, (void)bytes, (void)size;
    return 0;
}

static uLong memory_write(voidpf opaque, voidpf stream, const void *bytes, uLong size) {
    struct memory *memory = stream;
    size_t over = memory->buf->size - memory->at;
    (void)opaque;
    if (over > size) over = size;
    if (over) memcpy(memory->buf->data + memory->at, bytes, over);
    buf_bytes(memory->buf, (const char *)bytes + over, size - over);
    memory->at += size;
    return size;
}

static long memory_tell(voidpf opaque, voidpf stream) {
    const struct memory *memory = stream;
    (void)opaque;
    return (long)memory->at;
}

static long memory_seek(voidpf opaque, voidpf stream, uLong offset, int origin) {
    struct memory *memory = stream;
    size_t from = origin == ZLIB_FILEFUNC_SEEK_SET   ? 0
                  : origin == ZLIB_FILEFUNC_SEEK_CUR ? memory->at
                                                     : memory->buf->size;
    (void)opaque;
    if (offset > memory->buf->size - from) return -1;
    memory->at = from + offset;
    return 0;
}

static int memory_close(voidpf opaque, voidpf stream) {
    (void)opaque, (void)stream;
    return 0;
}

static bool add_part(zipFile archive, const struct zip_part *part) {
    const zip_fileinfo made = {.tmz_date = {.tm_mday = 1, .tm_year = 1980}}; /* no part is older */
    return zipOpenNewFileInZip(archive, part->name, &made, NULL, 0, NULL, 0, NULL, 0, 0) ==
               ZIP_OK &&
           zipWriteInFileInZip(archive, part->bytes.data, (unsigned)part->bytes.size) == ZIP_OK &&
           zipCloseFileInZip(archive) == ZIP_OK;
}

/* In memory nothing fails but memory. */
void zip_write(struct buf *out, const struct zip_part *parts, int count) {
    struct memory memory = {.buf = out};
    zlib_filefunc_def functions = {.zopen_file = memory_open,
                                   .zread_file = memory_read,
                                   .zwrite_file = memory_write,
                                   .ztell_file = memory_tell,
                                   .zseek_file = memory_seek,
                                   .zclose_file = memory_close,
                                   .zerror_file = memory_close,
                                   .opaque = &memory};
    zipFile archive = zipOpen2("", APPEND_STATUS_CREATE, NULL, &functions);
    bool fine = archive != NULL;
    for (int i = 0; i < count && fine; i++) fine = add_part(archive, &parts[i]);
    if (!archive || zipClose(archive, NULL) != ZIP_OK || !fine) arena_out_of_memory();
}
