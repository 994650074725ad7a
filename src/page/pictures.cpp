#include "page/pictures.hpp"

#include <algorithm>

#include "homes/handover.hpp"
#include "page/homes.hpp"

namespace lampside::page {
namespace {

std::string back_to(const record::Pup& pup) { return "pup?label=" + percent_encode(pup.label); }

Html figure(const View& view, const record::Pup& pup, const record::Told<record::Photo>& photo) {
  const auto address = litter_href(view.litter, "picture/" + photo.what.sha256 + ".jpg");
  const auto age = (view.litter.zone.day_of(photo.at) - view.litter.zone.day_of(pup.birth.at)).count();
  const std::string when = "day " + std::to_string(age);
  return element("figure", {},
                 link(address, element("img", {{"src", address + "?size=small"},
                                               {"loading", "lazy"},
                                               {"alt", say_pup(pup) + ", " + when}})) +
                     element("figcaption", {},
                             text(when + ", ") + time_of(view, photo.at) +
                                 change_row(when, strike_button(view, photo.id, back_to(pup), "Strike out", when))));
}

Html upload_form(const View& view, const record::Pup& pup) {
  const bool refused = view.problem && view.problem->code.starts_with("PICTURE");
  Form form{"picture", litter_href(view.litter, "picture"), view.token, fresh_id(view),
            refused ? &view.typed : nullptr};
  form.with_files();
  form.hidden("about", pup.label);
  form.hidden("back", back_to(pup));
  return form.finish(
      picture_field("picture-file", "A picture (JPEG or PNG)") + form.when_folded() + Form::submit("Save the picture") +
          p("hint", text("It is turned upright and made smaller; where and when it was taken and with what "
                         "is not kept in it.")),
      "stack");
}

}  // namespace

Html picture_field(const std::string& id, std::string_view label) {
  return div("field",
             element("label", {{"for", id}}, text(label)) + element("input", {{"type", "file"},
                                                                              {"id", id},
                                                                              {"name", "picture"},
                                                                              {"accept", "image/jpeg,image/png"},
                                                                              {"required", kBare}}));
}

Html pictures_card(const View& view, const record::Pup& pup) {
  Html row;
  for (const auto& photo : view.litter.photos)
    if (photo.about == pup.label) row += figure(view, pup, photo);
  Html body;
  const auto missing = homes::without_picture(view.litter, view.now);
  if (std::find(missing.begin(), missing.end(), pup.label) != missing.end())
    body += p("hint", text("None in the last seven days."));
  if (!row.empty()) body += div("weeks", row);
  // Only the row is replaced by a live refresh: a picture that was chosen and not yet sent stays chosen.
  return element("section", {{"class", "card"}},
                 h2(text("Pictures")) + live("pictures", body) + upload_form(view, pup));
}

Html papers_card(const View& view, const record::Pup& pup) {
  const auto paper = [&](std::string_view file) {
    return litter_href(view.litter, "paper/" + std::string(file) + "?pup=" + percent_encode(pup.label));
  };
  const auto day = homes::ready_day(view.litter, reference::built_in(), view.assessment.care, pup);
  const Html sheet = div("ends", link(paper("pup-sheet.pdf"), text("Sheet, PDF"), "button") +
                                     link(paper("pup-sheet.png"), text("as a picture"), "button quiet") +
                                     link(paper("pup-sheet.txt"), text("as text"), "button quiet"));
  return element(
      "section", {{"class", "card"}},
      h2(text("For its new family"), "papers") + p("", text("May leave from " + say_day(day) + ".")) +
          p("hint", text("The sheet tells strangers the facts: no name, no number, no address.")) + sheet +
          div("ends",
              link(litter_href(view.litter, "handover?label=" + percent_encode(pup.label)),
                   text(pup.handover ? "Folder, and the day it left" : "Folder, and the day it leaves"), "button")));
}

Html follow_up_panel(const View& view, const record::Pup& pup) {
  if (!pup.handover && !pup.departure) return {};
  Html items;
  for (const auto& news : pup.follow_ups) {
    std::string says = news.what.news.value_or("");
    if (news.what.grams)
      says.insert(0, say(*news.what.grams, view.litter.units().weight).append(says.empty() ? "" : ", "));
    items += element("li", {}, span("words", text(says)) + span("at", time_of(view, news.at)));
  }
  Form form{view, "follow-up", "follow_up", pup.label, back_to(pup)};
  return fold_away(text("News after it left"),
                   (items.empty() ? items : element("ul", {{"class", "entries"}}, items)) +
                       p("hint", text("Ask only families that agreed to be asked.")) +
                       form.finish(form.field("news", "How it is doing, its health", {.hint = std::string(kNoNames)}) +
                                       form.field("grams", "Weight in grams", {.mode = "decimal"}) + form.when() +
                                       Form::submit("Write it down"),
                                   "stack"),
                   false, "panel", "news");
}

}  // namespace lampside::page
