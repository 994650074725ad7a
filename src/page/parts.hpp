// The parts every page is put together from: the frame, the cards, the forms.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "page/page.hpp"
#include "page/words.hpp"

namespace lampside::page {

inline Html text(std::string_view s) { return Html::text(s); }
Html div(std::string_view cls, const Html& children);
Html p(std::string_view cls, const Html& children);
Html span(std::string_view cls, const Html& children);
Html h2(const Html& children, std::string_view id = "");
Html link(const std::string& href, const Html& children, std::string_view cls = "");
/// <details><summary>…</summary>…</details>
Html fold_away(const Html& summary, const Html& children, bool open = false, std::string_view cls = "",
               std::string_view id = "");

/// A moment: <time datetime="ISO">03:12</time>, and with `ago` the age beside it.
Html time_of(const View& view, Instant t);
Html at_time(const View& view, Instant t);  ///< the same with "at " before a time of today
Html time_and_ago(const View& view, Instant t);
/// The span since `t`, as text that the clocks module keeps running. "42 min".
Html running_clock(const View& view, Instant t);
/// Swatch, word and name of a pup, linking to its page.
Html pup_link(const View& view, const record::Pup& pup);
Html pup_name(const record::Pup& pup);

/// A part of the page that a live refresh may replace. `name` is unique on the page.
Html live(std::string_view name, const Html& children, std::string_view cls = "");

// ---- forms ----------------------------------------------------------------------------------------------------------

struct Option {
  std::string value, label;
};

/// Makes the fields of one form, with labels, unique ids, and what was typed if this very form was refused.
class Form {
 public:
  /// A form for POST .../record.
  Form(const View& view, std::string name, std::string kind, std::string about, std::string back,
       std::string corrects = "");
  /// Any other form. `typed`: what it held when it was refused, or null.
  Form(std::string name, std::string action, std::string token, std::string id,
       const std::map<std::string, std::string>* typed);

  void hidden(std::string name, std::string value);
  [[nodiscard]] bool refused() const { return typed_ != nullptr; }
  [[nodiscard]] std::string value(const std::string& name, const std::string& otherwise) const;

  struct TextOptions {
    std::string value{}, hint{};
    std::string type = "text";
    std::string mode{};  ///< inputmode: "decimal", "numeric", "tel"
    std::vector<std::string> suggestions{};
    bool required = false;
    std::string cls{};
    std::string placeholder{};
    int rows = 0;  ///< more than none: several lines
  };
  Html field(const std::string& name, std::string_view label, const TextOptions& options) const;
  Html field(const std::string& name, std::string_view label) const { return field(name, label, TextOptions{}); }
  /// Radio buttons drawn as large choices; none chosen unless `chosen` says so.
  Html choice(const std::string& name, std::string_view legend, const std::vector<Option>& options,
              const std::string& chosen = "", bool required = false, std::string_view cls = "") const;
  /// Date and time; empty means now. Folded away unless `open`, for the tap at the moment itself.
  Html when(std::string_view label = "When (empty: now)", const std::string& value = "") const;
  Html when_folded(const std::string& value = "") const;
  Html note(std::string hint = {}) const;
  static Html submit(std::string_view label, std::string_view cls = "button");
  /// The whole form.
  [[nodiscard]] Html finish(const Html& fields, std::string_view cls = "") const;
  void with_files() { files_ = true; }  ///< it sends files too

 private:
  [[nodiscard]] std::string id_of(std::string_view field_name) const { return name_ + "-" + std::string(field_name); }
  std::string name_, action_;
  bool files_ = false;
  std::vector<std::pair<std::string, std::string>> hidden_;
  const std::map<std::string, std::string>* typed_ = nullptr;
};

/// One button that records one entry by itself.
Html one_tap(const View& view, std::string_view name, std::string_view kind, std::string_view about,
             std::string_view back, const std::vector<std::pair<std::string, std::string>>& fields, const Html& label,
             std::string_view cls);
/// The button that strikes an entry out.
Html strike_button(const View& view, const record::EntryId& id, std::string_view back, std::string_view label,
                   std::string_view what, std::string_view cls = "button quiet");
std::string fresh_id(const View& view);
/// The buttons that change an entry, one tap away: a strike-out must not lie under a passing thumb.
Html change_row(std::string_view said, const Html& buttons);

// ---- cards ----------------------------------------------------------------------------------------------------------

/// `more`: what can be done about it on the spot.
Html finding_card(const View& view, const reference::Finding& finding, const Html& more = {});
/// Folded down to its headline: for notes, which ask for no hand now.
Html finding_folded(const View& view, const reference::Finding& finding);
/// A one-line form of it, for screens where room is short.
Html finding_line(const View& view, const reference::Finding& finding);
/// Findings at call_vet or worse, as cards; for the top of every screen but Now.
Html urgent_findings(const View& view, bool whole_cards);
Html vet_call(const View& view);
Html source_line(const reference::Citation& source);
Html not_assessed(const reference::NotAssessed& why);

// ---- the frame ------------------------------------------------------------------------------------------------------

struct Frame {
  std::string title;
  std::string screen;               ///< "now", "due", ...; what the navigation marks
  std::string back;                 ///< where Undo returns to; empty: the screen
  bool says_notice_itself = false;  ///< the screen shows the notice in its own words
};
/// The whole document of a litter's screen, with notice, problem, navigation and foot.
std::string page_of(const View& view, const Frame& frame, const Html& main);
/// A document without a litter.
std::string bare_page(std::string_view title, const Html& main);
Html problem_box(const Problem& problem);
Html undo_button(const View& view, std::string_view back);

}  // namespace lampside::page
