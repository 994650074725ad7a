#include "litters.hpp"

namespace lampside::page::testing {

record::LitterFacts juniper() {
  record::LitterFacts facts;
  facts.dam = record::Parent{};
  facts.dam->name = "Juniper";
  facts.dam->breed = "Golden Retriever";
  facts.dam->kg = Kilograms{29.6};
  facts.vet = record::Vet{"01632 960118", "01632 960144", 25};
  return facts;
}

Story nothing() { return Story{}; }

Story empty() {
  Story story;
  story.facts(juniper());
  return story;
}

Story waiting() {
  Story story = empty();
  story.add(-60 * 1440, "", record::Ovulation{});
  story.add(-58 * 1440, "", record::Mating{record::MatingMethod::natural});
  for (int i = 1; i < 12; ++i)
    story.add(-720 * i, "dam", record::Temperature{Celsius{38.0 + 0.1 * (i % 3)}, std::nullopt});
  return story;
}

Story mid_whelping() {
  Story story = empty();
  story.add(-63 * 1440, "", record::Mating{record::MatingMethod::natural});
  story.add(-4 * 1440, "", record::PupCount{record::CountMethod::xray, 8, true});
  story.add(-600, "dam", record::Temperature{Celsius{36.9}, std::nullopt});
  story.add(-120, "dam", record::SignSeen{record::Sign::panting});
  story.add(-40, "dam", record::SignSeen{record::Sign::waters});
  story.add(-30, "dam", record::SignSeen{record::Sign::strong_straining});
  story.born(0, "1", 412, "red");
  story.born(45, "2", 398, "blue");
  story.born(80, "3", 431, "green");
  story.add(85, "3", record::NewbornScore{2, 1, 2, 2, 2});
  story.add(150, "dam", record::SignSeen{record::Sign::strong_straining});
  return story;
}

Story eight_weeks(int pups) {
  static const char* const kCollars[] = {"red",   "blue",  "green", "yellow", "purple",    "orange",
                                         "white", "black", "pink",  "brown",  "turquoise", "grey"};
  Story story = empty();
  story.add(-63 * 1440, "", record::Mating{});
  for (int i = 0; i < pups; ++i) {
    const std::string label = std::to_string(i + 1);
    story.born(i * 40, label, 380 + 6 * i, kCollars[i % 12]);
    for (int half = 1; half < 112; ++half) {
      const int minute = i + 480 + half * 720;
      story.weighed(minute, label, (380 + 6 * i) * (1.0 + 0.05 * half));
      if (half % 2 == 0) story.add(minute + 3, label, record::Temperature{Celsius{37.8}, std::nullopt});
      if (half < 28) story.add(minute + 5, label, record::Feed{Millilitres{8}, record::FeedWay::bottle, std::nullopt});
    }
  }
  for (int day = 0; day < 56; ++day)
    story.add(700 + day * 1440, "dam", record::Temperature{Celsius{38.4}, std::nullopt});
  return story;
}

std::vector<std::pair<std::string, std::string>> Shown::screens() const {
  std::vector<std::pair<std::string, std::string>> out{
      {"now", now_page(view)},           {"due", due_page(view)},
      {"whelping", whelping_page(view)}, {"weigh-in", weigh_in_page(view, "")},
      {"dosing", dosing_page(view, "")}, {"paper", paper_page(view)},
      {"supplies", supplies_page(view)}, {"log", log_page(view)},
      {"settings", settings_page(view)}, {"care", care_page(view)},
      {"records", records_page(view)},   {"nest", nest_page(view)},
      {"homes", homes_page(view)}};
  for (const auto& pup : litter.pups) out.emplace_back("pup " + pup.label, pup_page(view, pup));
  return out;
}

}  // namespace lampside::page::testing
