/* A strict little reader of the XML that our drawings are made of: is it well-formed?
 *
 * Tags nest and close, attributes are quoted and not repeated, text holds no bare '<', '>' or '&',
 * only the five named entities, and no control characters.  No comments, no processing
 * instructions, no CDATA: a drawing of ours has none.
 */
#ifndef PLUGWRIGHT_XML_H
#define PLUGWRIGHT_XML_H

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

enum { XML_DEEPEST = 32, XML_ATTRIBUTES = 24 };

static inline bool xml_entity(const char **at) {
    static const char *const known[] = {"&amp;", "&lt;", "&gt;", "&quot;", "&apos;"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        size_t size = strlen(known[i]);
        if (strncmp(*at, known[i], size) == 0) return *at += size, true;
    }
    return false;
}

static inline bool xml_name(const char **at, char name[32]) {
    size_t size = 0;
    while (isalpha((unsigned char)**at) || **at == '-' || isdigit((unsigned char)**at)) {
        if (size == 31) return false;
        name[size++] = *(*at)++;
    }
    name[size] = 0;
    return size > 0;
}

static inline bool xml_value(const char **at) {
    if (*(*at)++ != '"') return false;
    while (**at != '"') {
        if (**at == '&' ? !xml_entity(at) : (unsigned char)**at < 0x20 || **at == '<' || !*++*at) {
            return false;
        }
    }
    return ++*at, true;
}

/* What is wrong with the document, or NULL. */
static inline const char *xml_fault(const char *text) {
    char open[XML_DEEPEST][32], name[32], seen[XML_ATTRIBUTES][32];
    int depth = 0, roots = 0;
    for (const char *at = text; *at;) {
        if (*at != '<') {
            if (*at == '&') {
                if (!xml_entity(&at)) return "unknown entity";
                continue;
            }
            if (*at == '>') return "bare > in text";
            if ((unsigned char)*at < 0x20 && *at != '\n') return "control character";
            if (!depth && *at != '\n') return "text outside the root";
            at++;
            continue;
        }
        at++;
        if (*at == '/') {
            at++;
            if (!xml_name(&at, name) || *at++ != '>') return "bad closing tag";
            if (!depth || strcmp(open[--depth], name) != 0)
                return "closing tag without its opening";
            continue;
        }
        if (!xml_name(&at, name)) return "bad tag";
        if (!depth && roots++) return "a second root";
        int attributes = 0;
        while (*at == ' ') {
            at++;
            if (attributes == XML_ATTRIBUTES || !xml_name(&at, seen[attributes])) {
                return "bad attribute";
            }
            for (int i = 0; i < attributes; i++) {
                if (!strcmp(seen[i], seen[attributes])) return "attribute repeated";
            }
            attributes++;
            if (*at++ != '=' || !xml_value(&at)) return "bad value";
        }
        if (*at == '/') {
            if (*++at != '>') return "bad empty tag";
        } else {
            if (*at != '>' || depth == XML_DEEPEST) return "tag not closed, or too deep";
            strcpy(open[depth++], name);
        }
        at++;
    }
    return depth || !roots ? "a tag is left open" : NULL;
}

#endif
