// Paper: the forms to print, and what each is for.
#include <array>

#include "page/parts.hpp"

namespace lampside::page {
namespace {

struct PaperForm {
  std::string_view form, title, says, when;
};
constexpr std::array<PaperForm, 15> kForms{{
    {"weights-to-fill", "Weight chart to fill in",
     "Pups as columns with their collars, days as rows. What is already written down is printed in.",
     "Hang it beside the scale."},
    {"weights", "Weights, filled in", "Every weight so far with the curve of each pup.", "For your vet."},
    {"growth-sheet", "Growth sheets", "A page for each pup: its curve among its litter mates, and every weight.",
     "For the family it goes to."},
    {"whelping-log", "Whelping log",
     "A page for the night: times, signs, pups, placentas. What is written down is printed in.",
     "Print it empty before the night; electricity may fail."},
    {"dam-temperature", "Her temperature", "A chart for the days before: morning, midday and evening.",
     "Hang it beside the box."},
    {"when-home", "When to be home", "The likeliest days and hours, and whom to ring, on one sheet.",
     "Hang it on the fridge before she is due."},
    {"litter-record", "Record of the litter",
     "Parents, matings, every pup with its chip and where it went; free lines for what the journal does not keep.",
     "For the file the law or the club asks for."},
    {"call-sheet", "Call sheet", "What to say to the vet, and the night so far, on one page.",
     "Take it with you, or send it ahead."},
    {"dosing-round", "Dosing round",
     "How much each pup gets today by the label you typed in, with room for time and lot.",
     "Take it to the box, then write down what was given."},
    {"turns", "Turns at the teats", "Which group is with her when, for a day, each change to tick.",
     "Hang it on the box; see Nest for how it is made."},
    {"milk-by-hand", "Milk by hand", "What each hand-fed pup gets today and when, with room for what it took.",
     "Beside the kettle; a new one each day."},
    {"pup-sheet", "The pups' sheets",
     "A page for each pup at home: its picture, facts, parents, health so far, and from when it may leave.",
     "For an advertisement. It names nobody."},
    {"folder", "The folders",
     "Birth, weights, worming, vaccinations, feeding, care, contract and pictures of each pup at home.",
     "For its family. With their names in it: from the pup's own page."},
    {"shopping-list", "Shopping list", "What is still to be bought, trip by trip, in the amounts a large litter needs.",
     "In your pocket on shop day."},
    {"packing-list", "Packing list for the car", "What goes with her and the pups to the vet, to tick off.",
     "Hang it by the door, a week before she is due."},
}};

}  // namespace

std::string paper_page(const View& view) {
  Html cards;
  for (const auto& form : kForms) {
    const auto href = [&](std::string_view size) {
      return litter_href(view.litter, "paper/" + std::string(form.form) + ".pdf?size=" + std::string(size));
    };
    cards += element(
        "section", {{"class", "card paper-form"}},
        h2(text(form.title)) + p("", text(form.says)) + p("hint", text(form.when)) +
            div("ends",
                link(href("a4"), text("A4") + span("unseen", text(", " + std::string(form.title))), "button") +
                    link(href("letter"), text("US Letter") + span("unseen", text(", " + std::string(form.title))),
                         "button quiet")));
  }
  const Html main = p("", text("Each opens as a PDF to print. Ink on paper goes on working when the light goes out.")) +
                    div("papers", cards);
  return page_of(view, {.title = "Paper", .screen = "paper", .back = ""}, main);
}

}  // namespace lampside::page
