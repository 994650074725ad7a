// What is not in the house, too little, out of date or not tried.
#include "limits.hpp"

namespace lampside::testing {
namespace {

record::Stock stock(std::string item, double have) {
  record::Stock s{};
  s.item = std::move(item);
  s.have = Amount{have};
  return s;
}
Story mated() { return Story{}.breed("Golden Retriever").mated(kNight - days(50)); }
Instant opens(const Story& story) { return std::get<due::Forecast>(story.assess(kNight).due).opens; }

/// A story in which that is written down, as many days before her window opens.
auto before(std::optional<record::Stock> said) {
  return [said](double left) {
    Story story = mated();
    if (said) story.tell(kNight - days(20), "", *said);
    return story.assess(opens(story) - days(left));
  };
}
/// n of two things written down with `change` made to them, ten days before.
auto ten_days_before(void (*change)(record::Stock&)) {
  return [change](double n) {
    Story story = mated();
    story.tell(kNight - days(20), "", stock("torch", 1));
    const char* const items[] = {"towels, small", "collars, coloured"};
    for (int i = 0; i < std::min(2L, std::lround(n)); ++i) {
      auto s = stock(items[i], 100);
      change(s);
      story.tell(kNight - days(19), "", s);
    }
    return story.assess(opens(story) - days(10));
  };
}
advice::Assessment lamps(double n) {
  Story story = mated();
  story.tell(kNight - days(20), "", stock("heat lamp or pad", std::round(n)));
  return story.assess(opens(story) - days(10));
}

const Cases supplies{
    {"SUPPLIES_UNCHECKED", Level::watch, kAtOrBelow, kOneMinute, before({})},
    {"SUPPLIES_MISSING", Level::watch, kAtOrBelow, kOneMinute, before(stock("torch", 1))},
    {"SUPPLIES_MISSING", Level::act, kAtOrBelow, kOneMinute, before(stock("torch", 1))},
    {"SUPPLIES_UNTRIED", Level::watch, kAtOrBelow, kOneMinute, before(stock("scale in grams", 1))},
    {"SUPPLIES_UNTRIED", Level::act, kAtOrBelow, kOneMinute, before(stock("scale in grams", 1))},
    {"SUPPLIES_SHORT", Level::watch, kAtOrAbove, 1, ten_days_before([](record::Stock& s) { s.have = Amount{1}; })},
    {"SUPPLIES_EXPIRED", Level::watch, kAtOrAbove, 1,
     ten_days_before([](record::Stock& s) { s.expires = Zone{}.day_of(kNight - days(1)); })},
    {"LAMP_UNGUARDED", Level::act, kAtOrAbove, 1, lamps},
};

}  // namespace
}  // namespace lampside::testing
