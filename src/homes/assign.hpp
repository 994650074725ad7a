// Who is given what, so that all together it fits best.
#pragma once

#include <vector>

namespace lampside::homes {

/// For each row the column it is given, so that the sum of the points is as large as it can be; every row gets one as
/// long as there are columns enough, else the best rows do (-1: none). Rows are of one length. Exact: whole points.
std::vector<int> assign(const std::vector<std::vector<int>>& points);

}  // namespace lampside::homes
