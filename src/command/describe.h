/* The program described for other programs, from its own rows. */
#ifndef PLUGWRIGHT_DESCRIBE_H
#define PLUGWRIGHT_DESCRIBE_H

#include "base/buf.h"

/* plugwright(1), in mdoc(7). */
void describe_man(struct buf *out);

/* Completion of commands, options, their words and recipe files. */
void describe_bash(struct buf *out);
void describe_zsh(struct buf *out);
void describe_fish(struct buf *out);

#endif
