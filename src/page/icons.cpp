#include "page/icons.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "draw/palette.hpp"

namespace lampside::page {

Html icon_for(reference::Level level) {
  switch (level) {
    case reference::Level::emergency:  // octagon with a bar: stop
      return Html::literal(
          R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="currentColor" fill-rule="evenodd" d="M8 2h8l6 6v8l-6 6H8l-6-6V8zm2.8 4v8h2.4V6zm0 10v2.4h2.4V16z"/></svg>)");
    case reference::Level::call_vet:  // triangle
      return Html::literal(
          R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="currentColor" fill-rule="evenodd" d="M12 2 23 21.5H1zm-1.2 6.5v6.3h2.4V8.5zm0 8v2.4h2.4v-2.4z"/></svg>)");
    case reference::Level::act:  // square with an arrow
      return Html::literal(
          R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="currentColor" fill-rule="evenodd" d="M4 3h16v18H4zm4 8v2.4h5.2l-2 2 1.7 1.7 4.9-4.9-4.9-4.9-1.7 1.7 2 2z"/></svg>)");
    case reference::Level::watch:  // open eye
      return Html::literal(
          R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2.2" d="M1.8 12C5 6.8 8.3 5 12 5s7 1.8 10.2 7C19 17.2 15.7 19 12 19s-7-1.8-10.2-7z"/><circle cx="12" cy="12" r="3.2" fill="currentColor"/></svg>)");
    case reference::Level::note:  // ring with a dot
      return Html::literal(
          R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="12" r="9" fill="none" stroke="currentColor" stroke-width="2"/><circle cx="12" cy="12" r="3" fill="currentColor"/></svg>)");
  }
  return {};
}

Html order_icon(bool to_do) {
  if (to_do)
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2.6" stroke-linecap="round" stroke-linejoin="round" d="M4 12.5 9.5 18 20 6.5"/></svg>)");
  return Html::literal(
      R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="12" r="8.7" fill="none" stroke="currentColor" stroke-width="2.2"/><path stroke="currentColor" stroke-width="2.2" d="M6 6l12 12"/></svg>)");
}

Html icon_for_screen(std::string_view screen) {
  if (screen == "now")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M12 2v4M6.5 11.5a5.5 5.5 0 0 1 11 0L20 17H4zM9.5 20.5h5"/></svg>)");
  if (screen == "due")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M4 5h16v15H4zM4 10h16M8 2.5v4M16 2.5v4M9 15h6"/></svg>)");
  if (screen == "whelping")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="13" r="8" fill="none" stroke="currentColor" stroke-width="2"/><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" d="M12 8.5V13l3 2M9.5 2h5"/></svg>)");
  if (screen == "weigh-in")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M4 6h16M12 6v3M4 20h16l-1.5-9h-13zM12 17l2-3"/></svg>)");
  if (screen == "nest")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M3 12.5h18c0 4.5-3.5 7.5-9 7.5s-9-3-9-7.5zM7.5 9.5a4.5 4.5 0 0 1 9 0M12 2v1.5"/></svg>)");
  if (screen == "supplies")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M4 8h16v12H4zM8 8V4.5h8V8M12 11.5v5M9.5 14h5"/></svg>)");
  if (screen == "homes")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M3 11.5 12 4l9 7.5M5.5 10v10h13V10M10 20v-5.5h4V20"/></svg>)");
  if (screen == "more")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><g fill="currentColor"><circle cx="5" cy="12" r="2.2"/><circle cx="12" cy="12" r="2.2"/><circle cx="19" cy="12" r="2.2"/></g></svg>)");
  if (screen == "care")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M5 4h14v17H5zM9 2.5h6v3H9zM8.5 13l2.5 2.5 4.5-5"/></svg>)");
  if (screen == "paper")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" d="M6 2.5h8l4.5 4.5v14.5H6zM9.5 12h6M9.5 16h6"/></svg>)");
  if (screen == "log")
    return Html::literal(
        R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" d="M9 6h11M9 12h11M9 18h11M4 6h.5M4 12h.5M4 18h.5"/></svg>)");
  return Html::literal(
      R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" d="M4 7h9M19 7h1M4 17h1M11 17h9"/><circle cx="16" cy="7" r="2.5" fill="none" stroke="currentColor" stroke-width="2"/><circle cx="8" cy="17" r="2.5" fill="none" stroke="currentColor" stroke-width="2"/></svg>)");
}

namespace {

// Our own order: neighbours in the list are easy to tell apart by lamp light, and each has its word beside it.
constexpr std::array<std::string_view, 14> kCollars{"red",   "blue", "green", "yellow",    "purple", "orange", "white",
                                                    "black", "pink", "brown", "turquoise", "grey",   "lime",   "gold"};

std::string lower(std::string_view text) {
  std::string out{text};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c + 32);
  return out;
}

}  // namespace

const std::vector<std::string_view>& collar_words() {
  static const std::vector<std::string_view> kWords(kCollars.begin(), kCollars.end());
  return kWords;
}

Html swatch(std::string_view collar) {
  if (collar.empty()) return {};
  const Html ring = Html::literal(R"(<circle cx="12" cy="12" r="10.5" fill="none" class="swatch-ring"/>)");
  const auto colour = draw::swatch_of(collar);
  Html inside;
  if (colour) {
    const std::string fill =
        "rgb(" + std::to_string(colour->r) + "," + std::to_string(colour->g) + "," + std::to_string(colour->b) + ")";
    inside = element("circle", {{"cx", "12"}, {"cy", "12"}, {"r", "10"}, {"fill", fill}});
  } else {
    inside = Html::literal(
        R"(<circle cx="12" cy="12" r="10" fill="#8d8a85"/><path d="M4 8 16 20M8 4l12 12" stroke="#f4f0e6" stroke-width="3"/>)");
  }
  return element("svg", {{"class", "swatch"}, {"viewBox", "0 0 24 24"}, {"aria-hidden", "true"}}, inside + ring);
}

std::string_view next_free_collar(const std::vector<std::string>& taken) {
  for (const auto collar : kCollars) {
    const bool used = std::any_of(taken.begin(), taken.end(), [&](const std::string& t) { return lower(t) == collar; });
    if (!used) return collar;
  }
  return "";
}

}  // namespace lampside::page
