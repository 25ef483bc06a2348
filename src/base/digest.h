/* SHA-1 (FIPS 180-4), which git names its objects by; for names alone, not against forgery. */
#ifndef PLUGWRIGHT_DIGEST_H
#define PLUGWRIGHT_DIGEST_H

#include "base/str.h"

enum { DIGEST_HEX = 41 }; /* forty digits and the zero byte */

/* Of two texts, one behind the other. */
void digest_sha1(struct str first, struct str second, char hex[DIGEST_HEX]);

#endif
