#include "page/parts.hpp"

#include "page/icons.hpp"

namespace lampside::page {

Html div(std::string_view cls, const Html& children) { return element("div", {{"class", std::string(cls)}}, children); }
Html p(std::string_view cls, const Html& children) {
  return cls.empty() ? element("p", {}, children) : element("p", {{"class", std::string(cls)}}, children);
}
Html span(std::string_view cls, const Html& children) {
  return element("span", {{"class", std::string(cls)}}, children);
}
Html h2(const Html& children, std::string_view id) {
  return id.empty() ? element("h2", {}, children) : element("h2", {{"id", std::string(id)}}, children);
}
Html link(const std::string& href, const Html& children, std::string_view cls) {
  Attributes attributes{{"href", href}};
  if (!cls.empty()) attributes.emplace_back("class", std::string(cls));
  return element("a", attributes, children);
}
Html fold_away(const Html& summary, const Html& children, bool open, std::string_view cls, std::string_view id) {
  Attributes attributes;
  if (!cls.empty()) attributes.emplace_back("class", std::string(cls));
  if (!id.empty()) attributes.emplace_back("id", std::string(id));
  if (open) attributes.emplace_back("open", kBare);
  return element("details", attributes, element("summary", {}, span("sum", summary)) + div("inside", children));
}

Html time_of(const View& view, Instant t) {
  return element("time", {{"datetime", to_iso(view.litter.zone.stamp(t))}}, text(say_when(view, t)));
}
Html at_time(const View& view, Instant t) {
  return element("time", {{"datetime", to_iso(view.litter.zone.stamp(t))}}, text(say_at(view, t)));
}
Html time_and_ago(const View& view, Instant t) {
  const Html age = t > view.now
                       ? span("", text(say_ago(view, t)))
                       : element("span", {{"class", "ago"}, {"data-elapsed", std::to_string((view.now - t).count())}},
                                 text(say_ago(view, t)));
  return time_of(view, t) + text(", ") + age;
}
Html running_clock(const View& view, Instant t) {
  const Span span_now = view.now > t ? view.now - t : Span{0};
  return element("span",
                 {{"class", "running"},
                  {"role", "timer"},
                  {"aria-live", "off"},
                  {"data-elapsed", std::to_string(span_now.count())}},
                 text(say_span(span_now)));
}

Html pup_name(const record::Pup& pup) {
  Html out = swatch(pup.collar()) + span("pup-label", text("Pup " + pup.label));
  if (!pup.collar().empty()) out += span("collar", text(pup.collar()));
  return span("pup-name", out);
}
Html pup_link(const View& view, const record::Pup& pup) {
  return link(pup_href(view.litter, pup), pup_name(pup), "pup-link");
}

Html live(std::string_view name, const Html& children, std::string_view cls) {
  return element("div", {{"class", "live " + std::string(cls)}, {"data-live", std::string(name)}}, children);
}

Html source_line(const reference::Citation& source) {
  return p("source", text("Source: " + std::string(source.work) + ", " + std::string(source.locator) + " ") +
                         span("standing", text(reference::name_of(source.standing))));
}

Html not_assessed(const reference::NotAssessed& why) { return span("cannot", text("cannot tell: " + why.why)); }

Html vet_call(const View& view) {
  const auto& vet = view.litter.facts.vet;
  Html calls;
  const auto add = [&](const std::optional<std::string>& phone, const char* label) {
    if (!phone || phone->empty()) return;
    const std::string href = tel_href(*phone);
    if (href.empty()) {
      calls += p("", text(std::string(label) + ": " + *phone));
    } else {
      calls += link(href, span("call-label", text(label)) + span("call-number", text(*phone)), "button call");
    }
  };
  if (vet) {
    const auto clock = view.litter.zone.time_of_day(view.now);
    const bool night = clock < std::chrono::hours{8} || clock >= std::chrono::hours{18};
    if (night) add(vet->night_phone, "Vet at night");
    add(vet->phone, "Vet");
    if (!night) add(vet->night_phone, "Vet at night");
    if (!calls.empty() && vet->minutes_away)
      calls += p("hint", text(std::to_string(*vet->minutes_away) + " min away, as written in Settings"));
  }
  if (calls.empty())
    calls = p("", text("No vet's number is written down. ") +
                      link(litter_href(view.litter, "settings"), text("Write it in Settings")));
  return div("calls", calls);
}

namespace {

Html say_link(const View& view) {
  return div("ends", link(litter_href(view.litter, "call"), text("What to say to the vet"), "button say-link"));
}

bool urgent(reference::Level level) {
  return level == reference::Level::emergency || level == reference::Level::call_vet;
}

Html level_mark(reference::Level level) { return span("level", icon_for(level) + text(words_for(level))); }

Html about_of(const View& view, const std::string& about) {
  if (const auto* pup = view.litter.pup(about)) return pup_link(view, *pup);
  return span("about", text(say_about(view.litter, about)));
}

Html orders_of(const reference::Finding& f) {
  Html orders;
  if (!f.do_now.empty())
    orders += element("dt", {}, order_icon(true) + span("unseen", text("Do"))) + element("dd", {}, text(f.do_now));
  if (!f.do_not.empty())
    orders += element("dt", {{"class", "not"}}, order_icon(false) + span("unseen", text("Do not"))) +
              element("dd", {}, text(f.do_not));
  return orders.empty() ? orders : element("dl", {{"class", "orders"}}, orders);
}

Html since(const View& view, Instant at) {
  return p("since", text(at > view.now ? "From " : "Since ") + time_and_ago(view, at));
}

Html why_of(const reference::Finding& f) {
  Html why;
  if (!f.why.empty()) why += p("", text(f.why));
  if (!f.professional.empty()) why += p("", element("b", {}, text("For your vet: ")) + text(f.professional));
  why += source_line(f.source);
  return why;
}

std::string level_class(reference::Level level) { return "level-" + std::string(reference::name_of(level)); }

}  // namespace

Html finding_card(const View& view, const reference::Finding& f, const Html& more) {
  Html body = div("card-head", level_mark(f.level) + about_of(view, f.about));
  body += element("h3", {}, text(sentence(f.headline)));
  body += p("because", text(sentence(f.because)));
  body += orders_of(f);
  if (urgent(f.level)) body += vet_call(view) + say_link(view);
  body += more;
  if (f.since) body += since(view, *f.since);
  body += fold_away(text("Why, and who says so"), why_of(f), false, "small");
  return element("article", {{"class", "card finding " + level_class(f.level)}}, body);
}

Html finding_folded(const View& view, const reference::Finding& f) {
  Html body = p("because", text(sentence(f.because))) + orders_of(f);
  if (f.since) body += since(view, *f.since);
  body += why_of(f);
  return fold_away(level_mark(f.level) + span("headline", text(sentence(f.headline))) +
                       span("about", text(say_about(view.litter, f.about))),
                   body, false, "panel finding-folded " + level_class(f.level));
}

Html finding_line(const View& view, const reference::Finding& f) {
  Html body = level_mark(f.level) + span("headline", text(sentence(f.headline))) + about_of(view, f.about);
  if (f.since) body += span("since", text("since ") + time_of(view, *f.since));
  return div("finding-line " + level_class(f.level), body);
}

Html urgent_findings(const View& view, bool whole_cards) {
  Html out;
  for (const auto& f : view.assessment.findings) {
    if (!urgent(f.level)) continue;
    out += whole_cards ? finding_card(view, f) : finding_line(view, f);
  }
  if (out.empty()) return {};
  if (!whole_cards) out += vet_call(view);
  out += say_link(view);
  return element("section", {{"class", "urgent"}, {"aria-label", "Urgent"}}, out);
}

Html problem_box(const Problem& problem) {
  Html body = p("what", text(sentence(problem.what)));
  if (!problem.todo.empty()) body += p("todo", text(sentence(problem.todo)));
  body += p("code", text(problem.code));
  return element("div", {{"class", "problem"}, {"role", "alert"}}, body);
}

}  // namespace lampside::page
