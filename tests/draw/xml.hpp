// A strict XML parser's view of a drawing: well-formed or not, its elements, and the text in them.
#pragma once

#include <expat.h>

#include <map>
#include <string>
#include <vector>

namespace lampside::draw::test {

struct Element {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;
};
struct Document {
  bool well_formed = false;
  std::vector<Element> elements;

  [[nodiscard]] std::vector<Element> named(const std::string& name) const {
    std::vector<Element> out;
    for (const auto& e : elements)
      if (e.name == name) out.push_back(e);
    return out;
  }
  [[nodiscard]] std::vector<std::string> texts() const {
    std::vector<std::string> out;
    for (const auto& e : named("text")) out.push_back(e.text);
    return out;
  }
};

inline Document read_xml(const std::string& xml) {
  struct State {
    Document document;
    std::vector<std::size_t> open;
  } state;
  XML_Parser parser = XML_ParserCreate("UTF-8");
  XML_SetUserData(parser, &state);
  XML_SetElementHandler(
      parser,
      [](void* user, const char* name, const char** attributes) {
        auto& s = *static_cast<State*>(user);
        Element e{name, {}, {}};
        for (; *attributes; attributes += 2) e.attributes[attributes[0]] = attributes[1];
        s.open.push_back(s.document.elements.size());
        s.document.elements.push_back(std::move(e));
      },
      [](void* user, const char*) { static_cast<State*>(user)->open.pop_back(); });
  XML_SetCharacterDataHandler(parser, [](void* user, const char* text, int length) {
    auto& s = *static_cast<State*>(user);
    if (!s.open.empty()) s.document.elements[s.open.back()].text.append(text, static_cast<std::size_t>(length));
  });
  state.document.well_formed = XML_Parse(parser, xml.data(), static_cast<int>(xml.size()), 1) == XML_STATUS_OK;
  XML_ParserFree(parser);
  return std::move(state.document);
}

}  // namespace lampside::draw::test
