// The frame of every page: head, notice, navigation, foot.
#include <algorithm>
#include <array>

#include "page/icons.hpp"
#include "page/parts.hpp"

namespace lampside::page {
namespace {

/// An asset's address with a mark of its content, so that a new program never meets an old style sheet in a cache.
std::string asset_href(std::string_view path) {
  for (const auto& asset : assets()) {
    if (asset.path != path) continue;
    std::uint32_t hash = 2166136261U;  // FNV-1a
    for (const char c : asset.body) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    std::string mark;
    for (int shift = 28; shift >= 0; shift -= 4) mark += "0123456789abcdef"[(hash >> shift) & 15U];
    return "/assets/" + std::string(path) + "?v=" + mark;
  }
  return "/assets/" + std::string(path);
}

Html module(std::string_view path) { return element("script", {{"type", "module"}, {"src", asset_href(path)}}); }

const Html& head_links() {
  static const Html kLinks =
      element("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1, viewport-fit=cover"}}) +
      element("meta", {{"name", "color-scheme"}, {"content", "light dark"}}) +
      element("meta", {{"name", "format-detection"}, {"content", "telephone=no"}}) +
      element("link", {{"rel", "icon"}, {"href", asset_href("icon.svg")}, {"type", "image/svg+xml"}}) +
      element("link", {{"rel", "stylesheet"}, {"href", asset_href("charts.css")}}) +
      element("link", {{"rel", "stylesheet"}, {"href", asset_href("lampside.css")}}) +
      element("script", {{"src", asset_href("early.js")}}) + module("look.js") + module("clocks.js") +
      module("live.js") + module("taps.js") + module("queue.js") + module("night.js") + module("pictures.js");
  return kLinks;
}

std::string document(std::string_view title, const Html& body) {
  const Html head =
      element("head", {}, element("meta", {{"charset", "utf-8"}}) + element("title", {}, text(title)) + head_links());
  return "<!doctype html>\n" + element("html", {{"lang", "en"}}, head + body).str() + "\n";
}

Html look_button() {
  return element(
      "button", {{"type", "button"}, {"class", "look scripted"}, {"data-look-toggle", ""}},
      Html::literal(
          R"(<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path fill="currentColor" d="M20 14.5A8.5 8.5 0 1 1 9.5 4 7 7 0 0 0 20 14.5z"/></svg>)") +
          span("look-word", text("Night")));
}

Html foot() {
  return element("footer", {{"class", "foot"}},
                 p("", text("Your vet's word and your law come first.")) +
                     p("hint", text("Lampside sees only what is written down. It does not examine a dog.")));
}

Html skip_link() { return link("#main", text("To the content"), "skip"); }

Html navigation(const View& view, const std::string& screen) {
  static constexpr std::array<std::array<std::string_view, 2>, 10> kScreens{{{"now", "Now"},
                                                                             {"due", "Due"},
                                                                             {"whelping", "Whelping"},
                                                                             {"weigh-in", "Weigh-in"},
                                                                             {"nest", "Nest"},
                                                                             {"care", "Care"},
                                                                             {"supplies", "Supplies"},
                                                                             {"homes", "Homes"},
                                                                             {"log", "Log"},
                                                                             {"paper", "Paper"}}};
  // A phone shows those of the hour and puts the rest behind "More"; a wide screen shows all of them in a row.
  static constexpr std::array<std::string_view, 4> kBefore{"now", "due", "whelping", "supplies"};
  static constexpr std::array<std::string_view, 4> kAfter{"now", "whelping", "weigh-in", "care"};
  const auto& hour = view.litter.pups.empty() ? kBefore : kAfter;
  Html items, rest;
  bool here_is_behind = false;
  for (const auto& [name, label] : kScreens) {
    Attributes attributes{{"href", litter_href(view.litter, name)}};
    if (screen == name) attributes.emplace_back("aria-current", "page");
    const Html to = element("a", attributes, icon_for_screen(name) + span("nav-word", text(label)));
    const bool first = std::find(hour.begin(), hour.end(), name) != hour.end();
    items += element("li", first ? Attributes{} : Attributes{{"class", "nav-wide"}}, to);
    if (first) continue;
    rest += element("li", {}, to);
    here_is_behind = here_is_behind || screen == name;
  }
  Attributes summary;
  if (here_is_behind) summary.emplace_back("class", "here");
  const Html more = element(
      "details", {{"class", "more"}},
      element("summary", summary, icon_for_screen("more") + span("nav-word", text("More"))) + element("ul", {}, rest));
  return element("nav", {{"class", "nav"}, {"aria-label", "Screens"}},
                 element("ul", {}, items + element("li", {{"class", "nav-more"}}, more)));
}

}  // namespace

Html undo_button(const View& view, std::string_view back) {
  if (view.undo_id.empty()) return {};
  return strike_button(view, view.undo_id, back, "Undo", view.notice, "button undo");
}

std::string page_of(const View& view, const Frame& frame, const Html& main) {
  const std::string back = frame.back.empty() ? frame.screen : frame.back;
  Attributes settings{{"href", litter_href(view.litter, "settings")}, {"class", "gear"}};
  if (frame.screen == "settings") settings.emplace_back("aria-current", "page");

  const Html as_of = live("as-of",
                          text("as of ") + element("time", {{"datetime", to_iso(view.litter.zone.stamp(view.now))}},
                                                   text(say_time(view.litter.zone, view.now))),
                          "as-of");
  const Html header =
      element("header", {{"class", "top"}},
              link(litter_href(view.litter, "now"), span("dam", text(view.litter.dam_name())), "home") + as_of +
                  element("span", {{"class", "link-state"}, {"role", "status"}}) +
                  element("span", {{"class", "waiting-state"}, {"role", "status"}}) +
                  element("span", {{"class", "unseen"}, {"role", "alert"}, {"data-announce", ""}}) + look_button() +
                  element("a", settings, icon_for_screen("settings") + span("nav-word", text("Settings"))));

  Html top;
  if (view.problem) top += problem_box(*view.problem);
  if (!view.notice.empty() && !frame.says_notice_itself)
    top += div("notice", element("p", {{"role", "status"}}, text(view.notice)) + undo_button(view, back));
  const Html body = element("body",
                            {{"data-live-from", litter_href(view.litter, "live")},
                             {"data-here", litter_href(view.litter, back)},
                             {"class", "screen-" + frame.screen}},
                            skip_link() + header +
                                element("main", {{"id", "main"}}, element("h1", {}, text(frame.title)) + top + main) +
                                foot() + navigation(view, frame.screen));
  return document(frame.title + " - " + view.litter.dam_name(), body);
}

std::string bare_page(std::string_view title, const Html& main) {
  const Html body = element(
      "body", {{"class", "bare"}},
      skip_link() +
          element("header", {{"class", "top"}}, link("/", span("dam", text("Lampside")), "home") + look_button()) +
          element("main", {{"id", "main"}}, main) + foot());
  return document(title, body);
}

}  // namespace lampside::page
