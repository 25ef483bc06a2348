/* What values amount to that a recipe leaves to the compiler: a pilot of twice the wire, the
 * table's density of the wood.  To write one of them out changes nothing. */
#ifndef PLUGWRIGHT_MODEL_IMPLIED_H
#define PLUGWRIGHT_MODEL_IMPLIED_H

struct implied {
    const void *member; /* of the recipe */
    double value;       /* SI */
};

struct implied_list {
    const struct implied *items;
    int count;
};

#endif
