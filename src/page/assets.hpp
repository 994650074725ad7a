// The files of assets/ as bytes of the program; the definition is written by embed.cmake.
#pragma once

#include <vector>

#include "page/page.hpp"

namespace lampside::page {

const std::vector<Asset>& embedded_assets();

}  // namespace lampside::page
