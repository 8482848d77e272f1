/* Edges to whole turns, and these to `rev` and `pick` lines one turn late (3.2 and 3.3). */
#ifndef BW_TURNS_H
#define BW_TURNS_H

#include "edges.h"

void turns_edge(const struct edge *edge);
/* No index came for the stall time: the turns under way stay unknown (3.2.4). */
void turns_stood_still(void);
/* Edges of the turn under way were lost. */
void turns_lost(void);
/* Sends the next line of a turn if there is one and room for it; true where it did. */
bool turns_send(void);

#endif
