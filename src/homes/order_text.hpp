// The order in words, for every family: no names.
#pragma once

#include <string>

#include "homes/order.hpp"

namespace lampside::homes {

/// The rule in words, with what happens after a death, a withdrawal, or when families or pups are left over.
std::string say_rule(const record::PickRule& rule);
/// The rule and how things stand as plain text: places, no names.
std::string order_text(const Order& order, const record::Litter& litter, Instant now);

}  // namespace lampside::homes
