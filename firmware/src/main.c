#include "board.h"
#include "commands.h"
#include "edges.h"
#include "rig.h"
#include "turns.h"

int main(void) {
  board_init();
  rig_boot();
  board_start();
  commands_greet();
  for (;;) {
    board_alive();
    struct edge edge;
    while (edges_next(&edge)) {
      if (edge.kind == EDGE_INDEX) rig_index(edge.tick);
      turns_edge(&edge);
    }
    if (edges_overran()) turns_lost();
    commands_take();
    rig_step();
    if (!turns_send()) board_sleep();
  }
}
