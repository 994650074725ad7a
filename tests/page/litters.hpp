// Invented litters to show pages of, made from entries as the journal keeps them.
#pragma once

#include <cstdio>
#include <string>

#include "page/page.hpp"

namespace lampside::page::testing {

class Story {
 public:
  explicit Story(std::string key = "juniper-2026") : key_{std::move(key)} {}

  /// Minutes after the story's beginning, Sunday 1 March 2026, 20:00 UTC.
  static Instant at(int minutes) { return kBegin + Minutes{minutes}; }
  static std::string id(int n) {
    char text[48];
    std::snprintf(text, sizeof text, "0a0b0c0d-0000-4000-8000-%012d", n);
    return text;
  }

  std::string add(int minutes, std::string about, record::Body body, std::string note = "", std::string corrects = "") {
    const Stamp stamp{at(minutes), Minutes{0}};
    auto entry = record::make_entry(id(++last_), key_, stamp, stamp, by, std::move(about), std::move(body));
    entry.note = std::move(note);
    if (!corrects.empty()) entry.corrects = corrects;
    entries.push_back(entry);
    return entry.id;
  }
  void facts(record::LitterFacts facts) { add(-100000, "", std::move(facts)); }
  std::string born(int minutes, const std::string& label, double grams, const std::string& collar) {
    record::Birth birth;
    birth.grams = Grams{grams};
    birth.collar = collar;
    birth.sex = record::Sex::female;
    return add(minutes, label, birth);
  }
  std::string weighed(int minutes, const std::string& label, double grams, double tub = 0) {
    return add(minutes, label,
               record::Weight{Grams{grams}, std::nullopt, tub > 0 ? std::optional{Grams{tub}} : std::nullopt});
  }

  [[nodiscard]] record::Litter litter() const { return record::fold(entries, key_, Zone{}); }

  std::vector<record::Entry> entries;
  std::string by = "Tess";

 private:
  static constexpr Instant kBegin{std::chrono::sys_days{std::chrono::year{2026} / 3 / 1} + std::chrono::hours{20}};
  std::string key_;
  int last_ = 0;
};

record::LitterFacts juniper();
Story empty();                     ///< nothing but the dam's name
Story nothing();                   ///< no entry at all
Story waiting();                   ///< three days to go, by an ovulation; some temperatures; now is minute 0
Story mid_whelping();              ///< three born, the fourth awaited, she strains; now is minute 200
Story eight_weeks(int pups = 12);  ///< two weighings a day, temperatures and feeds; now is minute 56*1440

/// Litter, assessment and view, kept together.
struct Shown {
  record::Litter litter;
  advice::Assessment assessment;
  View view;
  Shown(const Story& story, int minute)
      : litter{story.litter()},
        assessment{advice::assess(litter, reference::built_in(), Story::at(minute))},
        view{litter, assessment, Story::at(minute), "the-token", "", "", {}, {}, Story::id(900000), fresh, {}} {}
  Shown(const Shown&) = delete;
  Shown& operator=(const Shown&) = delete;

  static std::string fresh() {
    static int n = 800000;
    return Story::id(++n);
  }
  /// Every screen of it, by name.
  [[nodiscard]] std::vector<std::pair<std::string, std::string>> screens() const;
};

}  // namespace lampside::page::testing
