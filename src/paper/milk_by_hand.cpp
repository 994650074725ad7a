// "Milk by hand": what each pup gets today and when, with room for what it really took.
#include <fmt/format.h>

#include <algorithm>

#include "draw/lettering.hpp"
#include "nest/figures.hpp"
#include "paper/flow.hpp"

namespace lampside::paper {
namespace {

using nest::PupFeeding;
using record::FeedShare;
using reference::value_of;

const Font kBold{11, draw::Weight::bold, draw::kInk};
const std::vector<double> kAmounts{0.17, 0.13, 0.15, 0.55}, kLog{0.19, 0.21, 0.12, 0.12, 0.14, 0.22};

std::string ml(Millilitres v) { return say_number(v.count(), v.count() < 3 ? 2 : 1) + " ml"; }

std::string named(const Made& made, const std::string& label) {
  const auto* pup = made.litter.pup(label);
  return label + (pup && !pup->collar().empty() ? " " + pup->collar() : "");
}

void milk(Flow& flow, const Made& made) {
  const auto& feeding = made.assessment.feeding;
  const auto* known = value_of(feeding.milk);
  if (!known) {
    flow.words("No milk: " + std::get<reference::NotAssessed>(feeding.milk).why + ".", kBold);
    return;
  }
  flow.words(fmt::format("{}: {} kcal in 1 ml, {}.", known->name, say_number(known->density.count(), 2),
                         known->worked_out ? "worked out from powder and water" : "as the tin says"),
             kBold);
  if (const auto mix =
          nest::to_mix(nest::milk_label(made.litter, made.assessment.at)->what, Millilitres{100}, made.reference))
    flow.words(fmt::format("For 100 ml: {} g of powder in {} ml of water.", say_number(mix->powder.count(), 0),
                           say_number(mix->water.count(), 0)));
}

void amounts(Flow& flow, const Made& made, const std::vector<const PupFeeding*>& fed) {
  flow.heading("How much, by today's weights");
  flow.cells({"Pup", "One feed", "A day", "Worked out from"}, kAmounts, true);
  const auto& zone = made.litter.zone;
  for (const auto* p : fed) {
    const auto* plan = value_of(p->plan);
    std::string why;
    for (const auto& stop : p->stops) why += (why.empty() ? "" : " ") + sentence(stop.why) + ".";
    if (!plan && why.empty()) why = sentence(std::get<reference::NotAssessed>(p->plan).why) + ".";
    if (why.empty())
      why = fmt::format("{}, weighed {}; its stomach takes {}; {}", say(plan->weight.grams, made.litter.units().weight),
                        say_day_time(zone, plan->weight.weighed), ml(plan->today.room), plan->rise_says);
    const bool may = plan && p->stops.empty();
    flow.cells({named(made, p->label) + (p->share == FeedShare::top_up ? ", top-up" : ""),
                may ? ml(plan->today.each) : "no milk now", may ? fmt::format("{} feeds", plan->today.feeds) : "", why},
               kAmounts);
  }
}

void log(Flow& flow, const Made& made) {
  flow.heading("Feeds");
  flow.cells({"Due", "Pup", "Feed", "Took, ml", "At", "Belly, stool, suck"}, kLog, true);
  for (const auto& round : nest::feed_rounds(made.assessment.feeding, made.assessment.at))
    for (const auto& label : round.pups) {
      const auto* plan = value_of(made.assessment.feeding.of(label)->plan);
      flow.cells({label == round.pups.front() ? say_day_time(made.litter.zone, round.at) : "", named(made, label),
                  ml(plan->today.each), "", "", ""},
                 kLog, false, kWritable);
    }
  flow.space(mm(3));
  flow.small("For other feeds:");
  flow.lines(4);
}

}  // namespace

Form milk_by_hand(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  Flow flow{made.ruler, body_of(form.paper)};
  std::vector<const PupFeeding*> fed;
  for (const auto& p : made.assessment.feeding.pups)
    if (p.keepers && p.share != FeedShare::none) fed.push_back(&p);
  if (fed.empty()) {
    flow.words("No pup is fed by hand, by what is written down.", kBold);
    flow.words(
        "Begin on the screen Nest, under Milk by hand: write down the milk from its tin, then on the pup's page "
        "whether it is topped up or gets all its milk by hand. Then print this sheet again.");
    flow.space(mm(3));
    flow.cells({"Due", "Pup", "Feed", "Took, ml", "At", "Belly, stool, suck"}, kLog, true);
    flow.lines(12);
  } else {
    milk(flow, made);
    amounts(flow, made, fed);
    log(flow, made);
  }
  flow.space(mm(3));
  flow.small(
      "No milk for a cold pup, one with a taut belly, or one that does not suck a finger: warm it first, or ring your "
      "vet. Amounts change with each weighing: print it anew each day.");
  const auto say = [&](const reference::Saying* s) { flow.small(fmt::format("{} ({})", s->says, s->source.work)); };
  say(reference::sayings_on(made.reference, "feed_position").front());  // what is followed; the screen shows the others
  for (const auto* s : reference::sayings_on(made.reference, "feed_milk")) say(s);
  form.pages = flow.pages();
  return form;
}

}  // namespace lampside::paper
