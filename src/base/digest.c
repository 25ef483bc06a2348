/* The only file that knows the library: Apple's own, or libmd (elsewhere in the C library). */
#include "base/digest.h"

#include <stdint.h>
#ifdef __APPLE__
#include <CommonCrypto/CommonDigest.h>
#include <stdio.h>
#else
#include <sha1.h>
#endif

#ifdef __APPLE__

void digest_sha1(struct str first, struct str second, char hex[DIGEST_HEX]) {
    unsigned char bytes[CC_SHA1_DIGEST_LENGTH];
    CC_SHA1_CTX context;
    CC_SHA1_Init(&context);
    CC_SHA1_Update(&context, first.data, (CC_LONG)first.size);
    CC_SHA1_Update(&context, second.data, (CC_LONG)second.size);
    CC_SHA1_Final(bytes, &context);
    for (int i = 0; i < CC_SHA1_DIGEST_LENGTH; i++) snprintf(hex + 2 * i, 3, "%02x", bytes[i]);
}

#else

void digest_sha1(struct str first, struct str second, char hex[DIGEST_HEX]) {
    SHA1_CTX context;
    SHA1Init(&context);
    SHA1Update(&context, (const uint8_t *)first.data, first.size);
    SHA1Update(&context, (const uint8_t *)second.data, second.size);
    SHA1End(&context, hex);
}

#endif
