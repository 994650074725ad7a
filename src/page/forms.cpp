#include <algorithm>

#include "page/parts.hpp"

namespace lampside::page {
namespace {

/// The refused form, if it is this one: forms are told apart by what they would record.
const std::map<std::string, std::string>* typed_for(const View& view, const std::string& kind, const std::string& about,
                                                    const std::string& corrects) {
  if (!view.problem) return nullptr;
  const auto held = [&](const char* name) {
    const auto it = view.typed.find(name);
    return it == view.typed.end() ? std::string{} : it->second;
  };
  return held("kind") == kind && held("about") == about && held("corrects") == corrects ? &view.typed : nullptr;
}

}  // namespace

std::string fresh_id(const View& view) { return view.fresh_id ? view.fresh_id() : view.new_id; }

Form::Form(const View& view, std::string name, std::string kind, std::string about, std::string back,
           std::string corrects)
    : name_{std::move(name)},
      action_{litter_href(view.litter, "record")},
      typed_{typed_for(view, kind, about, corrects)} {
  hidden("token", view.token);
  hidden("id", fresh_id(view));
  hidden("kind", std::move(kind));
  hidden("about", std::move(about));
  if (!corrects.empty()) hidden("corrects", std::move(corrects));
  hidden("back", std::move(back));
}

Form::Form(std::string name, std::string action, std::string token, std::string id,
           const std::map<std::string, std::string>* typed)
    : name_{std::move(name)}, action_{std::move(action)}, typed_{typed} {
  hidden("token", std::move(token));
  hidden("id", std::move(id));
}

void Form::hidden(std::string name, std::string value) { hidden_.emplace_back(std::move(name), std::move(value)); }

std::string Form::value(const std::string& name, const std::string& otherwise) const {
  if (typed_ == nullptr) return otherwise;
  const auto it = typed_->find(name);
  return it == typed_->end() ? otherwise : it->second;
}

Html Form::field(const std::string& name, std::string_view label, const TextOptions& o) const {
  const std::string id = id_of(name);
  Attributes attributes{
      {"id", id}, {"name", name}, {"type", o.type}, {"value", value(name, o.value)}, {"autocomplete", "off"}};
  if (!o.mode.empty()) attributes.emplace_back("inputmode", o.mode);
  if (!o.placeholder.empty()) attributes.emplace_back("placeholder", o.placeholder);
  if (o.required) attributes.emplace_back("required", kBare);
  if (!o.hint.empty()) attributes.emplace_back("aria-describedby", id + "-hint");
  Html after;
  if (!o.suggestions.empty()) {
    attributes.emplace_back("list", id + "-list");
    Html options;
    for (const auto& s : o.suggestions) options += element("option", {{"value", s}});
    after += element("datalist", {{"id", id + "-list"}}, options);
  }
  if (!o.hint.empty()) after += element("small", {{"id", id + "-hint"}, {"class", "hint"}}, text(o.hint));
  Html box = element("input", attributes);
  if (o.rows > 0) {
    std::erase_if(attributes, [](const auto& a) { return a.first == "type" || a.first == "value"; });
    attributes.emplace_back("rows", std::to_string(o.rows));
    box = element("textarea", attributes, text(value(name, o.value)));
  }
  return div(o.cls.empty() ? "field" : "field " + o.cls, element("label", {{"for", id}}, text(label)) + box + after);
}

Html Form::choice(const std::string& name, std::string_view legend, const std::vector<Option>& options,
                  const std::string& chosen, bool required, std::string_view cls) const {
  const std::string picked = value(name, chosen);
  Html pills;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const std::string id = id_of(name) + "-" + std::to_string(i);
    Attributes attributes{{"type", "radio"}, {"id", id}, {"name", name}, {"value", options[i].value}};
    if (options[i].value == picked) attributes.emplace_back("checked", kBare);
    if (required) attributes.emplace_back("required", kBare);
    pills += div("pill", element("input", attributes) + element("label", {{"for", id}}, text(options[i].label)));
  }
  return element("fieldset", {{"class", "choice " + std::string(cls)}},
                 element("legend", {}, text(legend)) + div("pills", pills));
}

Html Form::when(std::string_view label, const std::string& value_now) const {
  return field("at", label, {.value = value_now, .type = "datetime-local"});
}

Html Form::when_folded(const std::string& value_now) const {
  return fold_away(text("Not just now? Set the time"), when("When", value_now), !value("at", "").empty(), "small");
}

Html Form::note(std::string hint) const { return field("note", "Note", {.hint = std::move(hint)}); }

Html Form::submit(std::string_view label, std::string_view cls) {
  return element("button", {{"type", "submit"}, {"class", std::string(cls)}}, text(label));
}

Html Form::finish(const Html& fields, std::string_view cls) const {
  Html inside;
  for (const auto& [name, value] : hidden_)
    inside += element("input", {{"type", "hidden"}, {"name", name}, {"value", value}});
  Attributes attributes{{"method", "post"}, {"action", action_}};
  if (!name_.empty()) attributes.emplace_back("id", name_);
  if (!cls.empty()) attributes.emplace_back("class", std::string(cls));
  if (files_) attributes.emplace_back("enctype", "multipart/form-data");
  return element("form", attributes, inside + fields);
}

Html one_tap(const View& view, std::string_view name, std::string_view kind, std::string_view about,
             std::string_view back, const std::vector<std::pair<std::string, std::string>>& fields, const Html& label,
             std::string_view cls) {
  Form form{view, std::string(name), std::string(kind), std::string(about), std::string(back)};
  for (const auto& [key, value] : fields) form.hidden(key, value);
  return form.finish(element("button", {{"type", "submit"}, {"class", std::string(cls)}}, label), "tap");
}

Html change_row(std::string_view said, const Html& buttons) {
  if (buttons.empty()) return {};
  return fold_away(text("Change") + span("unseen", text(": " + std::string(said))), buttons, false, "small change-row");
}

Html strike_button(const View& view, const record::EntryId& id, std::string_view back, std::string_view label,
                   std::string_view what, std::string_view cls) {
  Form form{"", litter_href(view.litter, "strike"), view.token, fresh_id(view), nullptr};
  form.hidden("strike", id);
  if (id == view.undo_id)
    for (std::size_t i = 0; i < view.undo_with.size(); ++i) {
      const auto n = std::to_string(i + 1);
      form.hidden("id-" + n, fresh_id(view));
      form.hidden("strike-" + n, view.undo_with[i]);
    }
  form.hidden("back", std::string(back));
  Html button = text(label);
  if (!what.empty()) button += span("unseen", text(": " + std::string(what)));
  return form.finish(element("button", {{"type", "submit"}, {"class", std::string(cls)}}, button), "tap");
}

}  // namespace lampside::page
