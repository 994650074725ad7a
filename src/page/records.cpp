// Records: which fields of what a law or a club asks for are filled for this litter.
#include "care/records.hpp"

#include "page/parts.hpp"
#include "reference/tables.hpp"

namespace lampside::page {
namespace {

Html row_of(const care::FieldState& state) {
  std::string said, cls = "at";
  if (state.by_hand) {
    said = "by hand, on the paper";
  } else if (state.of == 0) {
    said = "nothing yet";
  } else if (state.complete()) {
    said = state.of > 1 ? "all " + std::to_string(state.of) : "there";
  } else {
    said = state.of == 1     ? "missing"
           : state.have == 0 ? "missing for all " + std::to_string(state.of)
                             : std::to_string(state.have) + " of " + std::to_string(state.of) + ", missing for pup ";
    if (state.have > 0)
      for (std::size_t i = 0; i < state.missing.size(); ++i) said += (i == 0 ? "" : ", ") + state.missing[i];
    cls = "missing";
  }
  const bool there = state.complete() && state.of > 0;
  return element(
      "li", {},
      span("words", text(std::string(there ? "✓ " : "") + std::string(state.field->asks))) + span(cls, text(said)));
}

}  // namespace

std::string records_page(const View& view) {
  Html main = p("hint", text("Your law comes first: it may ask for more than stands here. What the journal has no "
                             "place for is left free on the paper."));
  main +=
      div("ends",
          link(litter_href(view.litter, "paper/litter-record.pdf?size=a4"), text("Print the record, A4"), "button") +
              link(litter_href(view.litter, "paper/litter-record.pdf?size=letter"), text("US Letter"), "button quiet"));
  Html panels;
  for (const auto& regime : care::record_fields(view.litter, reference::built_in())) {
    Html rows;
    for (const auto& field : regime.fields) rows += row_of(field);
    const Html body = element("ul", {{"class", "entries"}}, rows) + source_line(regime.fields.front().field->source);
    panels += fold_away(
        span("headline", text(regime.name)) +
            span("at", text(regime.complete() ? "complete, but for what is written by hand" : "not complete")),
        body, regime.here, "panel");
  }
  main += div("panels", panels);
  return page_of(view, {.title = "Records", .screen = "records", .back = ""}, main);
}

}  // namespace lampside::page
