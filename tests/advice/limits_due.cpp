// The calendar before whelping.
#include "limits.hpp"

namespace lampside::testing {
namespace {

template <class Body>
auto since(Body body) {
  return [body](double d) { return Story{}.tell(kNight - days(d), "", body).assess(kNight); };
}

template <class Body>
auto early_from(Body body) {
  return [body](double d) {
    return Story{}.tell(kNight - days(d), "", body).sign(Sign::weak_straining, kNight).assess(kNight);
  };
}

/// `at_p05(d)`: the story assessed d days before the due window opens. Where it opens depends a little on when one
/// asks.
advice::Assessment before_window(const Story& story, double d) {
  Instant now = kNight;
  for (int i = 0; i < 8; ++i) {
    const auto assessment = story.assess(now);
    const auto* due = reference::value_of(assessment.due);
    if (!due) break;
    now = due->p05 - days(d);
  }
  return story.assess(now);
}

const Cases calendar{
    {"OVERDUE_MATING", Level::watch, kAtOrAbove, kOneMinute, since(record::Mating{})},
    {"OVERDUE_MATING", Level::call_vet, kAtOrAbove, kOneMinute, since(record::Mating{})},
    {"OVERDUE_OVULATION", Level::watch, kAtOrAbove, kOneMinute, since(record::Ovulation{})},
    {"OVERDUE_OVULATION", Level::call_vet, kAtOrAbove, kOneMinute, since(record::Ovulation{})},
    {"OVERDUE_LH", Level::call_vet, kAtOrAbove, kOneMinute, since(record::LhSurge{})},
    {"OVERDUE_DIOESTRUS", Level::call_vet, kAtOrAbove, kOneMinute, since(record::Dioestrus{})},
    {"OVERDUE_PROGESTERONE", Level::call_vet, kAtOrAbove, kOneMinute,
     [](double d) {  // 2.7 ng/ml: the mean on the day of the surge
       return Story{}
           .tell(kNight - days(d + 3), "", record::Progesterone{NgPerMl{0.5}})
           .tell(kNight - days(d), "", record::Progesterone{NgPerMl{2.7}})
           .assess(kNight);
     }},
    {"OVERDUE_SCAN", Level::call_vet, kAtOrAbove, kOneMinute,
     [](double d) {  // a sac of 20 mm in a middling dam: day 32 of 65
       return Story{}.tell(kNight - days(33 + d), "", record::FoetalMeasure{"ICC", Millimetres{20}}).assess(kNight);
     }},
    {"LABOUR_EARLY_OVULATION", Level::call_vet, kBelow, kOneMinute, early_from(record::Ovulation{})},
    {"LABOUR_EARLY_LH", Level::call_vet, kBelow, kOneMinute, early_from(record::LhSurge{})},
    {"LABOUR_EARLY_DIOESTRUS", Level::call_vet, kBelow, kOneMinute, early_from(record::Dioestrus{})},
    {"LABOUR_EARLY", Level::call_vet, kBelow, kOneMinute,
     [](double d) { return Story{}.mated(kNight - days(d)).sign(Sign::weak_straining, kNight).assess(kNight); }},
    {"BOX_READY", Level::note, kAtOrBelow, 0.1,
     [](double d) { return before_window(Story{}.mated(kNight - days(40)), d); }},
    {"VET_NUMBER_MISSING", Level::act, kAtOrBelow, 0.1,
     [](double d) { return before_window(Story{}.mated(kNight - days(40)), d); }},
    {"DAM_TEMP_OLD", Level::note, kAtOrAbove, kOneMs,
     [](double m) {
       return Story{}.mated(kNight - days(62)).temperature("dam", 38.2, kNight - minutes(m)).assess(kNight);
     }},
    {"NO_DUE_DATE", Level::note, kAtOrAbove, 1,
     [](double none) {
       return (none < 1 ? Story{}.mated(kNight - days(30)) : Story{}.breed("Golden Retriever")).assess(kNight);
     }},
    {"DUE_WINDOW", Level::note, kAtOrAbove, 1,
     [](double n) {
       Story story;
       for (int i = 0; i < std::lround(n); ++i) story.mated(kNight - days(30 - 2 * i));
       return story.assess(kNight);
     }},
};

}  // namespace
}  // namespace lampside::testing
