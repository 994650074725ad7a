// What a person must look at: a pup picked twice, an order left without a reason, families in vain.
#pragma once

#include <vector>

#include "homes/order.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

std::vector<reference::Finding> findings(const record::Litter& litter, const Order& order,
                                         const reference::Reference& reference);

}  // namespace lampside::homes
