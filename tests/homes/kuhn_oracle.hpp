// Another way to the same answer, for tests only: made here from the paper, where the program asks a library.
#pragma once

#include <vector>

namespace lampside::testing {

/// As homes::assign. Kuhn 1955, Naval Research Logistics Quarterly 2:83-97, with potentials (O(n^2 m)).
std::vector<int> kuhn(const std::vector<std::vector<int>>& points);

}  // namespace lampside::testing
