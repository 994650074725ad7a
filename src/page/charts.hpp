// The charts on the screen: what the litter holds, handed to the drawing room.
#pragma once

#include "draw/charts.hpp"
#include "page/parts.hpp"

namespace lampside::page {

/// Weight curves of the litter; `highlight` (a label) stands out among its mates with the spread of its true weight,
/// empty: all alike.
Html weight_chart(const View& view, const std::string& highlight, draw::Shows shows = draw::Shows::weight);
/// The dam's temperature, with the limit of the drop from the reference tables.
Html dam_temperature_chart(const View& view);

/// The chance of the first pup hour by hour over days and nights.
Html due_strip(const View& view, const due::Forecast& forecast);

}  // namespace lampside::page
