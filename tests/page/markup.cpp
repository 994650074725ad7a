#include "markup.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <set>

namespace lampside::page::testing {
namespace {

bool is_void(const std::string& name) {
  static const std::set<std::string> kVoid{"input", "br", "meta", "link", "hr", "img"};
  return kVoid.count(name) != 0;
}

bool starts(std::string_view text, std::size_t at, std::string_view with) {
  return text.substr(at, with.size()) == with;
}

bool known_escape(std::string_view text, std::size_t at) {
  for (const std::string_view escape : {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"})
    if (starts(text, at, escape)) return true;
  return false;
}

class Reader {
 public:
  explicit Reader(std::string_view html) : html_{html} {}

  Markup read() {
    if (!starts(html_, 0, "<!doctype html>")) fault("no doctype");
    at_ = 15;
    while (at_ < html_.size()) {
      if (html_[at_] == '<') {
        tag();
      } else {
        if (html_[at_] == '>') fault("a bare > in text");
        if (html_[at_] == '&' && !known_escape(html_, at_)) fault("a bare & in text");
        ++at_;
      }
    }
    for (const auto open : open_) fault("never closed: " + out_.tags[open].name);
    return out_;
  }

 private:
  void fault(std::string what) {
    const auto from = at_ > 30 ? at_ - 30 : 0;
    out_.faults.push_back(std::move(what) + " near: " + std::string(html_.substr(from, 80)));
  }

  std::string word() {
    std::string out;
    while (at_ < html_.size() &&
           (std::isalnum(static_cast<unsigned char>(html_[at_])) != 0 || html_[at_] == '-' || html_[at_] == ':'))
      out += html_[at_++];
    return out;
  }

  void tag() {
    ++at_;
    if (at_ < html_.size() && html_[at_] == '/') {
      ++at_;
      const std::string name = word();
      if (open_.empty() || out_.tags[open_.back()].name != name) {
        fault("closes " + name + " but open is " + (open_.empty() ? "nothing" : out_.tags[open_.back()].name));
      } else {
        open_.pop_back();
      }
      if (at_ >= html_.size() || html_[at_++] != '>') fault("end tag not ended");
      return;
    }
    Tag tag;
    tag.name = word();
    tag.inside = open_;
    if (tag.name.empty()) {
      fault("a bare < in text");
      return;
    }
    bool self_closed = false;
    while (at_ < html_.size() && html_[at_] != '>') {
      if (html_[at_] == '/') {
        self_closed = true;
        ++at_;
        continue;
      }
      if (html_[at_] != ' ') {
        fault("no space before an attribute");
        ++at_;
        continue;
      }
      ++at_;
      const std::string name = word();
      if (name.empty()) continue;
      std::string value;
      if (at_ < html_.size() && html_[at_] == '=') {
        ++at_;
        if (at_ >= html_.size() || html_[at_] != '"') {
          fault("an unquoted attribute: " + name);
          continue;
        }
        const auto end = html_.find('"', ++at_);
        value = std::string(html_.substr(at_, end - at_));
        for (std::size_t i = 0; i < value.size(); ++i) {
          if (value[i] == '<' || value[i] == '>') fault("unescaped in attribute " + name);
          if (value[i] == '&' && !known_escape(value, i)) fault("a bare & in attribute " + name);
        }
        at_ = end + 1;
      }
      if (!tag.attributes.emplace(name, value).second) fault("attribute twice: " + name);
    }
    ++at_;
    const bool ends = self_closed || is_void(tag.name);
    out_.tags.push_back(std::move(tag));
    if (!ends) open_.push_back(out_.tags.size() - 1);
  }

  std::string_view html_;
  std::size_t at_ = 0;
  std::vector<std::size_t> open_;
  Markup out_;
};

}  // namespace

Markup read_markup(std::string_view html) { return Reader{html}.read(); }

std::vector<std::string> faults_of_page(std::string_view html) {
  Markup markup = read_markup(html);
  auto faults = markup.faults;
  std::set<std::string> ids, labelled;
  std::map<std::string, int> count;
  for (const auto& tag : markup.tags) {
    const bool in_drawing =
        std::any_of(tag.inside.begin(), tag.inside.end(), [&](std::size_t i) { return markup.tags[i].name == "svg"; });
    if (!in_drawing) ++count[tag.name];
    for (const auto& [name, value] : tag.attributes) {
      if (name == "style" || name.rfind("on", 0) == 0) faults.push_back("inline " + name + " on " + tag.name);
      const bool address = name == "href" || name == "src" || name == "action";
      if (address && (value.rfind("/", 0) != 0 || value.rfind("//", 0) == 0) && value.rfind("#", 0) != 0 &&
          value.rfind("tel:", 0) != 0 && value.rfind("mailto:", 0) != 0)
        faults.push_back("an address from elsewhere: " + value);
    }
    if (tag.name == "script" && !tag.has("src")) faults.emplace_back("an inline script");
    if (tag.name == "style") faults.emplace_back("an inline style sheet");
    if (tag.has("id") && !ids.insert(tag.get("id")).second) faults.push_back("an id twice: " + tag.get("id"));
    if (tag.name == "label") labelled.insert(tag.get("for"));
  }
  for (const char* name : {"main", "h1", "footer", "header", "title"})
    if (count[name] != 1) faults.push_back(std::string("not exactly one ") + name);
  int level = 0;
  for (std::size_t i = 0; i < markup.tags.size(); ++i) {
    const auto& tag = markup.tags[i];
    const bool field = (tag.name == "input" && tag.get("type") != "hidden") || tag.name == "select";
    if (field && labelled.count(tag.get("id")) == 0)
      faults.push_back("no label for " + tag.get("name") + " " + tag.get("id"));
    for (const char* points : {"aria-describedby", "list", "for"})
      if (tag.has(points) && tag.name != "output" && ids.count(tag.get(points)) == 0)
        faults.push_back(std::string(points) + " points at nothing: " + tag.get(points));
    if (tag.name.size() == 2 && tag.name[0] == 'h' && std::isdigit(static_cast<unsigned char>(tag.name[1])) != 0) {
      const int here = tag.name[1] - '0';
      if (here > level + 1) faults.push_back("a heading skips a level: " + tag.name);
      level = here;
    }
    if (tag.name != "form") continue;
    const bool asks =
        tag.get("method") == "get";  // asks a question and records nothing: its words stand in the address
    if (!asks && tag.get("method") != "post") faults.emplace_back("a form that is neither get nor post");
    std::set<std::string> hidden;
    bool submits = false;
    for (std::size_t j = i + 1; j < markup.tags.size(); ++j) {
      const auto& inner = markup.tags[j];
      if (std::find(inner.inside.begin(), inner.inside.end(), i) == inner.inside.end()) break;
      if (inner.name == "input" && inner.get("type") == "hidden" && !inner.get("value").empty())
        hidden.insert(inner.get("name"));
      if (inner.name == "button" && inner.get("type") == "submit") submits = true;
      if (inner.name == "form") faults.emplace_back("a form in a form");
    }
    if (asks && hidden.count("token") != 0) faults.emplace_back("a token that would stand in the address");
    if (!asks && (hidden.count("token") == 0 || hidden.count("id") == 0))
      faults.push_back("a form without token or id: " + tag.get("id"));
    if (!submits) faults.push_back("a form without a button: " + tag.get("id"));
  }
  return faults;
}

}  // namespace lampside::page::testing
