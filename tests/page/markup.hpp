// A small reader of our own pages, for tests: tags must close in order, attributes must be quoted, text must be
// escaped.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace lampside::page::testing {

struct Tag {
  std::string name;
  std::map<std::string, std::string> attributes;  ///< values as they stand, still escaped
  std::vector<std::size_t> inside;  ///< the open elements around it, outermost first, as indices into tags
  [[nodiscard]] bool has(const std::string& attribute) const { return attributes.count(attribute) != 0; }
  [[nodiscard]] std::string get(const std::string& attribute) const {
    const auto it = attributes.find(attribute);
    return it == attributes.end() ? "" : it->second;
  }
};

struct Markup {
  std::vector<Tag> tags;
  std::vector<std::string> faults;  ///< empty: well formed
};

Markup read_markup(std::string_view html);
/// What must hold for every page: well formed, no inline style or script, labels, ids, tokens, nothing from elsewhere.
std::vector<std::string> faults_of_page(std::string_view html);

}  // namespace lampside::page::testing
