#include "page/assets.hpp"

#include "draw/palette.hpp"

namespace lampside::page {
namespace {

/// The charts' colours by night come from the drawings themselves, so that screen and paper cannot drift apart.
/// They hold where the night look does: chosen on this device, or the system's wish and no choice.
const std::string& charts_css() {
  static const std::string kCss = draw::dark_css(R"(:root[data-look="night"])") +
                                  "@media (prefers-color-scheme: dark) {\n" +
                                  draw::dark_css(R"(:root:not([data-look="day"]))") + "}\n";
  return kCss;
}

}  // namespace

const std::vector<Asset>& assets() {
  static const std::vector<Asset> kAssets = [] {
    auto all = embedded_assets();
    all.push_back({"charts.css", "text/css; charset=utf-8", charts_css()});
    return all;
  }();
  return kAssets;
}

}  // namespace lampside::page
