#include "model/workshop.h"

#include <string.h>

const struct wood_row *workshop_wood(const struct workshop *workshop, struct str name) {
    for (int i = 0; workshop && i < workshop->own_wood_count; i++)
        if (str_equal(workshop->woods[i].name, name)) return &workshop->woods[i].row;
    return NULL;
}

bool workshop_gave(const struct recipe *recipe, const void *member) {
    return recipe->workshop && recipe_wrote(recipe, member) &&
           recipe_place(recipe, member).file == recipe->workshop->file;
}

void workshop_plain_size(struct str *size) {
    static const char *const around[] = {"#", "\xE2\x80\x9C", "\xE2\x80\x9D", "\xE2\x80\x9E"};
    for (int i = 0; i < 4; i++) {
        size_t length = strlen(around[i]);
        if (size->size > length && memcmp(size->data, around[i], length) == 0)
            size->data += length, size->size -= length;
        if (size->size > length && i > 0 &&
            memcmp(size->data + size->size - length, around[i], length) == 0)
            size->size -= length;
    }
    *size = str_trim(*size);
}
