#include "kuhn_oracle.hpp"

#include <algorithm>
#include <cstdint>
#include <limits>

namespace lampside::testing {

std::vector<int> kuhn(const std::vector<std::vector<int>>& points) {
  const std::size_t rows = points.size(), columns = rows == 0 ? 0 : points.front().size();
  if (columns == 0) return std::vector<int>(rows, -1);
  // The method wants no more rows than columns: empty columns stand for "none", which costs what no pup could.
  const std::size_t width = std::max(columns, rows);
  const auto cost = [&](std::size_t r, std::size_t c) -> std::int64_t {
    return c < columns ? -points[r][c] : 1'000'000;
  };
  constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;
  std::vector<std::int64_t> u(rows + 1, 0), v(width + 1, 0);
  std::vector<std::size_t> row_of(width + 1, 0), from(width + 1, 0);  // counted from 1; 0: none yet
  for (std::size_t r = 1; r <= rows; ++r) {
    row_of[0] = r;
    std::size_t here = 0;
    std::vector<std::int64_t> slack(width + 1, kFar);
    std::vector<bool> seen(width + 1, false);
    do {  // the shortest way from this row to a free column
      seen[here] = true;
      const std::size_t row = row_of[here];
      std::int64_t step = kFar;
      std::size_t next = 0;
      for (std::size_t c = 1; c <= width; ++c) {
        if (seen[c]) continue;
        const std::int64_t reduced = cost(row - 1, c - 1) - u[row] - v[c];
        if (reduced < slack[c]) slack[c] = reduced, from[c] = here;
        if (slack[c] < step) step = slack[c], next = c;
      }
      for (std::size_t c = 0; c <= width; ++c) {
        if (seen[c])
          u[row_of[c]] += step, v[c] -= step;
        else
          slack[c] -= step;
      }
      here = next;
    } while (row_of[here] != 0);
    for (; here != 0; here = from[here]) row_of[here] = row_of[from[here]];
  }
  std::vector<int> out(rows, -1);
  for (std::size_t c = 1; c <= columns; ++c)
    if (row_of[c] != 0) out[row_of[c] - 1] = static_cast<int>(c) - 1;
  return out;
}

}  // namespace lampside::testing
