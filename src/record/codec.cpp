// JSON in and out, from the field tables. Reading checks shape and plausibility; nothing unknown is dropped.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>

#include "record/fields.hpp"
#include "record/names.hpp"

namespace lampside::record {
namespace {

constexpr std::size_t kLineLimit = 64 * 1024;
constexpr std::size_t kTextLimit = 8 * 1024;

/// Members without a default constructor (quantities) still need a place to be read into.
template <class T>
struct Blank {
  static T make() { return T{}; }
};
template <class Tag>
struct Blank<Quantity<Tag>> {
  static Quantity<Tag> make() { return Quantity<Tag>{0}; }
};
template <>
struct Blank<Cash> {
  static Cash make() { return Cash{0}; }
};
template <>
struct Blank<Celsius> {
  static Celsius make() { return Celsius{0}; }
};
template <>
struct Blank<Progesterone> {
  static Progesterone make() { return {NgPerMl{0}}; }
};
template <>
struct Blank<FoetalMeasure> {
  static FoetalMeasure make() { return {"", Millimetres{0}}; }
};
template <>
struct Blank<EarlierLitter> {
  static EarlierLitter make() { return {Anchor::mating, Days{0}, {}, {}, {}, {}}; }
};
template <>
struct Blank<Temperature> {
  static Temperature make() { return {Celsius{0}, {}}; }
};
template <>
struct Blank<Weight> {
  static Weight make() { return {Grams{0}, {}, {}}; }
};
template <>
struct Blank<Feed> {
  static Feed make() { return {Millilitres{0}, FeedWay::nursing, {}}; }
};
template <>
struct Blank<Air> {
  static Air make() { return {Celsius{0}, AirPlace::room, {}}; }
};
template <>
struct Blank<Lamp> {
  static Lamp make() { return {Watts{0}, Centimetres{0}}; }
};
template <>
struct Blank<Deposit> {
  static Deposit make() { return {{}, Cash{0}, {}, {}, {}}; }
};
template <>
struct Blank<MoneyMoved> {
  static MoneyMoved make() { return {Cash{0}, MoneyWay::out, {}, {}, {}, {}, {}}; }
};

Result<void> in_limits(double value, std::string_view name, const Limits& limits) {
  if (value >= limits.low && value <= limits.high) return {};  // written so that NaN fails
  return problem("ENTRY_IMPLAUSIBLE", fmt::format("{} cannot be {}", name, say_number(value, 3)),
                 std::string(limits.advice));
}

tl::unexpected<Problem> wrong_type(std::string_view name, std::string_view wants) {
  return problem("ENTRY_TYPE", fmt::format("\"{}\" is not {}", name, wants), fmt::format("give {} as {}", name, wants));
}

Result<void> check_text(std::string_view name, const std::string& text) {
  if (text.size() > kTextLimit)
    return problem("ENTRY_VALUE", fmt::format("\"{}\" is longer than {} bytes", name, kTextLimit),
                   "shorten it, or split it into notes");
  if (text.find('\0') != std::string::npos)
    return problem("ENTRY_VALUE", fmt::format("\"{}\" holds a NUL character", name), "remove it; no store can keep it");
  return {};
}

template <class T>
Result<T> read_value(const Json& json, std::string_view name, const Limits& limits);

template <class S>
Result<S> read_struct(const Json& object, Json& rest) {
  S out = Blank<S>::make();
  Result<void> ok{};
  [[maybe_unused]] const auto one = [&](const auto& f) {
    if (!ok) return;
    using V = std::remove_reference_t<decltype(out.*(f.member))>;
    const auto it = object.find(f.name);
    if (it == object.end() || it->is_null()) {
      if constexpr (!is_optional<V>::value)
        ok =
            problem("ENTRY_MISSING", fmt::format("\"{}\" is missing", f.name), fmt::format("add the field {}", f.name));
      rest.erase(std::string(f.name));
      return;
    }
    if constexpr (is_optional<V>::value) {
      auto value = read_value<typename V::value_type>(*it, f.name, f.limits);
      if (value)
        out.*(f.member) = std::move(*value);
      else
        ok = tl::unexpected(value.error());
    } else {
      auto value = read_value<V>(*it, f.name, f.limits);
      if (value)
        out.*(f.member) = std::move(*value);
      else
        ok = tl::unexpected(value.error());
    }
    rest.erase(std::string(f.name));
  };
  std::apply([&](const auto&... f) { (one(f), ...); }, Shape<S>::fields);
  if (!ok) return tl::unexpected(ok.error());
  return out;
}

Result<UnitChoice> read_unit_words(const std::string& word) {
  if (word == "metric") return UnitChoice{WeightUnit::grams, TemperatureUnit::celsius};
  if (word == "imperial" || word == "us") return UnitChoice{WeightUnit::ounces, TemperatureUnit::fahrenheit};
  return problem("ENTRY_VALUE", fmt::format("units cannot be \"{}\"", word),
                 R"(give metric, imperial, or {"weight": "oz", "temperature": "F"})");
}

template <class T>
Result<T> read_value(const Json& json, std::string_view name, const Limits& limits) {
  if constexpr (std::is_same_v<T, bool>) {
    if (!json.is_boolean()) return wrong_type(name, "true or false");
    return json.get<bool>();
  } else if constexpr (std::is_same_v<T, int>) {
    if (!json.is_number()) return wrong_type(name, "a whole number");
    const double value = json.get<double>();
    if (std::floor(value) != value || std::fabs(value) > 1e9) return wrong_type(name, "a whole number");
    if (const auto ok = in_limits(value, name, limits); !ok) return tl::unexpected(ok.error());
    return static_cast<int>(value);
  } else if constexpr (std::is_same_v<T, double> || is_quantity<T>::value || std::is_same_v<T, Celsius>) {
    if (!json.is_number()) return wrong_type(name, "a number");
    const double value = json.get<double>();
    if (const auto ok = in_limits(value, name, limits); !ok) return tl::unexpected(ok.error());
    return T{value};
  } else if constexpr (std::is_same_v<T, Cash>) {
    if (!json.is_number()) return wrong_type(name, "a number");
    const double value = json.get<double>();
    if (const auto ok = in_limits(value, name, limits); !ok) return tl::unexpected(ok.error());
    if (const auto exact = Cash::from_number(value)) return *exact;
    return problem("ENTRY_VALUE", fmt::format("{} has more than three decimals", name), "give it as on the receipt");
  } else if constexpr (std::is_same_v<T, std::string>) {
    if (!json.is_string()) return wrong_type(name, "text");
    auto text = json.get<std::string>();
    if (const auto ok = check_text(name, text); !ok) return tl::unexpected(ok.error());
    return text;
  } else if constexpr (std::is_same_v<T, CivilDay>) {
    if (!json.is_string()) return wrong_type(name, "a date such as 2026-03-01");
    return parse_day(json.get<std::string>());
  } else if constexpr (HasNames<T>) {
    std::string known;
    for (const auto& [v, n] : names<T>) {
      if (json.is_string() && json.get_ref<const std::string&>() == n) return v;
      known += (known.empty() ? "" : ", ") + std::string(n);
    }
    return problem("ENTRY_VALUE",
                   fmt::format("{} cannot be {}", name, json.dump(-1, ' ', false, Json::error_handler_t::replace)),
                   "use one of: " + known);
  } else {
    static_assert(Nested<T>);
    if constexpr (std::is_same_v<T, UnitChoice>)
      if (json.is_string()) return read_unit_words(json.get<std::string>());
    if (!json.is_object()) return wrong_type(name, "an object");
    Json rest = json;
    auto value = read_struct<T>(json, rest);
    // A nested object keeps no place for unknown fields: refuse rather than drop them.
    if (value && !rest.empty())
      return problem("ENTRY_VALUE", fmt::format("{} has no field \"{}\"", name, rest.begin().key()),
                     "put it beside, in the entry itself, or in its note");
    return value;
  }
}

template <class T>
Json write_value(const T& value) {
  if constexpr (is_quantity<T>::value || std::is_same_v<T, Celsius>) {
    return value.count();
  } else if constexpr (std::is_same_v<T, Cash>) {
    return value.number();
  } else if constexpr (std::is_same_v<T, CivilDay>) {
    return to_iso(value);
  } else if constexpr (HasNames<T>) {
    return name_in(value);
  } else if constexpr (Nested<T>) {
    Json object = Json::object();
    const auto one = [&](const auto& f) {
      using V = std::remove_cvref_t<decltype(value.*(f.member))>;
      if constexpr (is_optional<V>::value) {
        if (value.*(f.member)) object[std::string(f.name)] = write_value(*(value.*(f.member)));
      } else {
        object[std::string(f.name)] = write_value(value.*(f.member));
      }
    };
    std::apply([&](const auto&... f) { (one(f), ...); }, Shape<T>::fields);
    return object;
  } else {
    return value;
  }
}

Result<Body> read_body(const std::string& kind, const Json& object, Json& rest) {
  std::optional<Result<Body>> out;
  const auto attempt = [&]<class S>(std::type_identity<S>) {
    if (out || Shape<S>::kind != kind || Shape<S>::kind.empty()) return;
    auto value = read_struct<S>(object, rest);
    if (value)
      out = Body{std::move(*value)};
    else
      out = tl::unexpected(value.error());
  };
  [&]<class... S>(std::variant<S...>*) { (attempt(std::type_identity<S>{}), ...); }(static_cast<AnyBody*>(nullptr));
  return out ? std::move(*out) : Result<Body>{Body{Other{}}};
}

/// Early journals could hold these with any fields, before their room was built: such a line stays a note.
bool was_free(std::string_view kind) {
  static constexpr std::array<std::string_view, 5> kFree{"family", "deposit", "choice", "handover", "money"};
  return std::find(kFree.begin(), kFree.end(), kind) != kFree.end();
}

bool is_uuid(std::string_view s) {
  if (s.size() != 36) return false;
  for (std::size_t i = 0; i < s.size(); ++i) {
    const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
    const bool hex = (s[i] >= '0' && s[i] <= '9') || (s[i] >= 'a' && s[i] <= 'f');
    if (dash ? s[i] != '-' : !hex) return false;
  }
  return true;
}

Result<void> check_id(std::string_view name, const std::string& id) {
  if (is_uuid(id)) return {};
  return problem("ENTRY_ID", fmt::format("{} \"{}\" is not a UUID", name, id.substr(0, 60)),
                 "give 32 hex digits in lower case, e.g. 0f8c2a54-6f0e-4b1e-9a3c-5f2b7f1f3d10");
}

/// What no single field can say: who an entry may be about.
Result<void> check_about(const Entry& e) {
  const auto dam_only = [&](std::string_view what) -> Result<void> {
    if (e.about == "dam" || e.about.empty()) return {};
    return problem("ENTRY_VALUE", fmt::format("a {} is not about \"{}\"", what, e.about),
                   "leave `about` out, or write dam");
  };
  const auto pup = [&](std::string_view what) -> Result<void> {
    if (!e.about.empty() && e.about != "dam") return {};
    return problem("ENTRY_MISSING", fmt::format("a {} must say which pup", what), "put the pup's label into `about`");
  };
  const auto nobody = [&](std::string_view what) -> Result<void> {
    if (e.about.empty()) return {};
    return problem("ENTRY_VALUE", fmt::format("{} is about no dog", what), "leave `about` out");
  };
  if (body_as<Birth>(e)) return pup("birth");
  if (body_as<Milk>(e) || body_as<Food>(e)) return nobody("a label");
  if (body_as<Sensor>(e)) return nobody("a sensor");
  if (body_as<HandFeeding>(e) || body_as<BehaviourTest>(e) || body_as<FollowUp>(e) || body_as<Handover>(e))
    return pup(e.kind);
  if (const auto* c = body_as<Choice>(e); c && c->made != ChoiceMade::pass) return pup("choice");
  if (body_as<Product>(e)) return nobody("a product's label");
  if (body_as<NewbornScore>(e)) return pup("newborn score");
  if (body_as<Feed>(e)) return pup("feed");
  if (body_as<Death>(e) || body_as<Departure>(e)) return e.about.empty() ? pup("death or departure") : Result<void>{};
  if (body_as<Weight>(e) || body_as<Temperature>(e)) {
    if (!e.about.empty()) {
      if (const auto* w = body_as<Weight>(e); w && e.about != "dam")
        return in_limits(w->grams.count(), "grams", kPupGrams);
      return {};
    }
    return problem("ENTRY_MISSING", fmt::format("a {} must say whose", e.kind),
                   "put dam, or the pup's label, into `about`");
  }
  if (body_as<Mating>(e) || body_as<LhSurge>(e) || body_as<Ovulation>(e) || body_as<Dioestrus>(e) ||
      body_as<Progesterone>(e) || body_as<FoetalMeasure>(e) || body_as<PupCount>(e) || body_as<DamMeal>(e) ||
      body_as<EarlierLitter>(e))
    return dam_only(e.kind);
  return {};
}

Result<void> check_common(const Entry& e) {
  if (const auto ok = check_id("id", e.id); !ok) return ok;
  if (e.corrects)
    if (const auto ok = check_id("corrects", *e.corrects); !ok) return ok;
  if (e.corrects && *e.corrects == e.id)
    return problem("ENTRY_VALUE", "an entry cannot correct itself",
                   "give `corrects` the id of the entry that was wrong");
  if (const auto* s = body_as<Strike>(e)) {
    if (const auto ok = check_id("strike", s->strike); !ok) return ok;
    if (s->strike == e.id)
      return problem("ENTRY_VALUE", "an entry cannot strike itself out",
                     "give `strike` the id of the entry to strike out");
  }
  if (e.litter.empty() || e.litter.size() > 64)
    return problem("ENTRY_VALUE", "\"litter\" must be a short text", "name the litter, e.g. juniper-2026");
  if (e.kind.empty() || e.kind.size() > 64)
    return problem("ENTRY_VALUE", "\"kind\" must be a short word", "say what kind of entry this is, e.g. weight");
  if (e.about.size() > 64)
    return problem("ENTRY_VALUE", "\"about\" is longer than 64 bytes", "use dam or the pup's label");
  for (const auto& [name, text] :
       {std::pair{"litter", &e.litter}, {"kind", &e.kind}, {"about", &e.about}, {"by", &e.by}, {"note", &e.note}})
    if (const auto ok = check_text(name, *text); !ok) return ok;
  return check_about(e);
}

Result<std::string> take_text(Json& rest, const char* name, bool required) {
  const auto it = rest.find(name);
  if (it == rest.end() || it->is_null()) {
    rest.erase(name);
    if (!required) return std::string{};
    return problem("ENTRY_MISSING", fmt::format("\"{}\" is missing", name), fmt::format("add the field {}", name));
  }
  if (!it->is_string()) return wrong_type(name, "text");
  auto text = it->get<std::string>();
  rest.erase(name);
  return text;
}

}  // namespace

Result<Entry> decode(const Json& object) {
  if (!object.is_object())
    return problem("ENTRY_SHAPE", "an entry must be a JSON object", R"(begin it with { and end it with })");
  Entry e;
  Json rest = object;
  auto id = take_text(rest, "id", true);
  if (!id) return tl::unexpected(id.error());
  auto litter = take_text(rest, "litter", true);
  if (!litter) return tl::unexpected(litter.error());
  auto kind = take_text(rest, "kind", true);
  if (!kind) return tl::unexpected(kind.error());
  auto at = take_text(rest, "at", true);
  if (!at) return tl::unexpected(at.error());
  auto written = take_text(rest, "written", false);
  if (!written) return tl::unexpected(written.error());
  // Version 1 gave `by` two meanings: who wrote the entry, and in a feed how it was given. So a feed's writer stands in
  // `written_by`; a feed that says its way in `way` keeps `by` for the writer.
  const char* writer = "by";
  if (*kind == "feed") {
    if (rest.contains("way")) {
      rest["written_by"] = rest.value("by", Json{});
      rest["by"] = rest["way"];
      rest.erase("way");
    }
    writer = "written_by";
  }
  auto by = take_text(rest, writer, false);
  if (!by) return tl::unexpected(by.error());
  auto about = take_text(rest, "about", false);
  if (!about) return tl::unexpected(about.error());
  auto note = take_text(rest, "note", false);
  if (!note) return tl::unexpected(note.error());
  auto corrects = take_text(rest, "corrects", false);
  if (!corrects) return tl::unexpected(corrects.error());
  const auto at_stamp = parse_stamp(*at);
  if (!at_stamp) return tl::unexpected(at_stamp.error());
  e.at = *at_stamp;
  e.written = e.at;
  if (!written->empty()) {
    const auto stamp = parse_stamp(*written);
    if (!stamp) return tl::unexpected(stamp.error());
    e.written = *stamp;
  }
  e.id = std::move(*id);
  e.litter = std::move(*litter);
  e.kind = std::move(*kind);
  e.by = std::move(*by);
  e.about = std::move(*about);
  e.note = std::move(*note);
  if (!corrects->empty()) e.corrects = std::move(*corrects);
  const Json body_source = rest;
  auto body = read_body(e.kind, body_source, rest);
  if (!body && was_free(e.kind) && (body.error().code == "ENTRY_MISSING" || body.error().code == "ENTRY_TYPE")) {
    rest = body_source;
    body = Body{Other{}};
  }
  if (!body) return tl::unexpected(body.error());
  e.body = std::move(*body);
  e.extra = Unread{std::move(rest)};
  if (const auto ok = check_common(e); !ok) return tl::unexpected(ok.error());
  return e;
}

Result<Entry> decode_line(std::string_view line) {
  if (line.size() > kLineLimit)
    return problem("LINE_TOO_LONG", fmt::format("the line has {} bytes, more than {}", line.size(), kLineLimit),
                   "one entry a line, each at most 64 KiB; is this a JSON Lines file?");
  // A JSON text may nest as deep as it is long; ours never goes beyond two.
  int depth = 0, deepest = 0;
  for (const char c : line) {
    if (c == '{' || c == '[') deepest = std::max(deepest, ++depth);
    if (c == '}' || c == ']') --depth;
  }
  if (deepest > 64)
    return problem("JSON_SYNTAX", "the line nests too deep to be an entry", "one flat JSON object a line");
  const Json object = Json::parse(line, nullptr, false);
  if (object.is_discarded())
    return problem("JSON_SYNTAX", "the line is not JSON", "one JSON object a line, in UTF-8; see docs/journal.md");
  return decode(object);
}

Json encode(const Entry& entry) {
  Json out = entry.extra.json();
  const Json body = std::visit(
      [](const auto& value) -> Json {
        using S = std::remove_cvref_t<decltype(value)>;
        Json object = Json::object();
        if constexpr (std::tuple_size_v<std::remove_cvref_t<decltype(Shape<S>::fields)>> > 0)
          object = write_value(value);
        return object;
      },
      entry.body);
  out.update(body);
  out["id"] = entry.id;
  out["litter"] = entry.litter;
  out["at"] = to_iso(entry.at);
  out["written"] = to_iso(entry.written);
  out["kind"] = entry.kind;
  if (!entry.by.empty()) out[body_as<Feed>(entry) ? "written_by" : "by"] = entry.by;
  if (!entry.about.empty()) out["about"] = entry.about;
  if (!entry.note.empty()) out["note"] = entry.note;
  if (entry.corrects) out["corrects"] = *entry.corrects;
  return out;
}

std::string encode_line(const Entry& entry) {
  return encode(entry).dump(-1, ' ', false, Json::error_handler_t::replace);
}

Result<void> check(const Entry& entry) {
  std::string line;
  try {
    line = encode(entry).dump();
  } catch (const Json::type_error&) {  // the library says so only for text that is not UTF-8
    return problem("TEXT_UTF8", "a text of this entry is not valid UTF-8", "type it again by hand");
  }
  // The same checks, by the same path: what could not be read back must not be written.
  const auto again = decode_line(line);
  if (!again) return tl::unexpected(again.error());
  return {};
}

std::string_view kind_of(const Body& body) {
  return std::visit([](const auto& value) { return Shape<std::remove_cvref_t<decltype(value)>>::kind; }, body);
}

Entry make_entry(EntryId id, std::string litter, Stamp at, Stamp written, std::string by, std::string about,
                 Body body) {
  Entry e;
  e.id = std::move(id);
  e.litter = std::move(litter);
  e.at = at;
  e.written = written;
  e.by = std::move(by);
  e.about = std::move(about);
  e.kind = std::string(kind_of(body));
  e.body = std::move(body);
  return e;
}

}  // namespace lampside::record
