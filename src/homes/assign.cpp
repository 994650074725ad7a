// The assignment, by the LEMON graph library. Compiled as C++17, without warnings: LEMON 1.3.1 is older than C++20 and
// uses what that has taken away. Its headers are enough: nothing of it is linked.
#define LEMON_DISABLE_ASSERTS
#include <lemon/matching.h>
#include <lemon/smart_graph.h>

#include <algorithm>

#include "homes/assign.hpp"

namespace lampside::homes {

std::vector<int> assign(const std::vector<std::vector<int>>& points) {
  const int rows = static_cast<int>(points.size()), columns = rows == 0 ? 0 : static_cast<int>(points.front().size());
  std::vector<int> out(points.size(), -1);
  if (columns == 0) return out;
  // Everybody is paired: rows and columns that are not there stand for "none" and are worth nothing to anybody.
  const int n = std::max(rows, columns);
  lemon::SmartGraph graph;
  for (int i = 0; i < 2 * n; ++i) graph.addNode();
  lemon::SmartGraph::EdgeMap<int> worth{graph};
  for (int r = 0; r < n; ++r)
    for (int c = 0; c < n; ++c)
      worth[graph.addEdge(graph.nodeFromId(r), graph.nodeFromId(n + c))] =
          r < rows && c < columns ? points[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)] : 0;
  lemon::MaxWeightedPerfectMatching<lemon::SmartGraph> best{graph, worth};
  if (!best.run()) return out;
  for (int r = 0; r < rows; ++r) {
    const int c = graph.id(best.mate(graph.nodeFromId(r))) - n;
    if (c < columns) out[static_cast<std::size_t>(r)] = c;
  }
  return out;
}

}  // namespace lampside::homes
