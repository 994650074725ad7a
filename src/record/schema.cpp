// The JSON Schema of an entry, made from the same field tables as the codec.
#include "record/fields.hpp"

#include <nlohmann/json.hpp>

namespace lampside::record {

namespace {

template <class T>
Json schema_of(const Limits& limits) {
  if constexpr (std::is_same_v<T, bool>) {
    return {{"type", "boolean"}};
  } else if constexpr (std::is_same_v<T, int> || std::is_same_v<T, double> || is_quantity<T>::value ||
                       std::is_same_v<T, Celsius> || std::is_same_v<T, Cash>) {
    Json out = {{"type", std::is_same_v<T, int> ? "integer" : "number"}};
    if (limits.low > -1e299) out["minimum"] = limits.low;
    if (limits.high < 1e299) out["maximum"] = limits.high;
    return out;
  } else if constexpr (std::is_same_v<T, std::string>) {
    return {{"type", "string"}};
  } else if constexpr (std::is_same_v<T, CivilDay>) {
    return {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}};
  } else if constexpr (HasNames<T>) {
    Json out = {{"enum", Json::array()}};
    for (const auto& [v, n] : names<T>) out["enum"].push_back(n);
    return out;
  } else {
    Json out = {{"type", "object"}, {"properties", Json::object()}, {"additionalProperties", false}};
    std::apply(
        [&](const auto&... f) {
          [[maybe_unused]] const auto one = [&]<class S, class V>(const Field<S, V>& fd) {
            if constexpr (is_optional<V>::value)
              out["properties"][std::string(fd.name)] = schema_of<typename V::value_type>(fd.limits);
            else
              out["properties"][std::string(fd.name)] = schema_of<V>(fd.limits);
          };
          (one(f), ...);
        },
        Shape<T>::fields);
    if constexpr (std::is_same_v<T, UnitChoice>)
      return {{"anyOf", Json::array({{{"enum", {"metric", "imperial", "us"}}}, out})}};
    return out;
  }
}

template <class S>
void add_kind(Json& all) {
  if (Shape<S>::kind.empty()) return;
  Json then = {{"properties", Json::object()}};
  Json required = Json::array();
  std::apply(
      [&](const auto&... f) {
        [[maybe_unused]] const auto one = [&]<class T, class V>(const Field<T, V>& fd) {
          if constexpr (is_optional<V>::value) {
            then["properties"][std::string(fd.name)] = schema_of<typename V::value_type>(fd.limits);
          } else {
            then["properties"][std::string(fd.name)] = schema_of<V>(fd.limits);
            required.push_back(fd.name);
          }
        };
        (one(f), ...);
      },
      Shape<S>::fields);
  if (!required.empty()) then["required"] = required;
  all.push_back({{"if", {{"properties", {{"kind", {{"const", Shape<S>::kind}}}}}}}, {"then", then}});
}

}  // namespace

Json schema() {
  const Json uuid = {{"type", "string"}, {"pattern", "^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"}};
  const Json time = {{"type", "string"},
                     {"pattern",
                      "^[0-9]{4}-[0-9]{2}-[0-9]{2}[T "
                      "][0-9]{2}:[0-9]{2}(:[0-9]{2}([.,][0-9]{1,9})?)?(Z|z|[+-][0-9]{2}(:?[0-9]{2})?)$"}};
  const auto text = [](int most) { return Json{{"type", "string"}, {"maxLength", most}}; };
  Json out = {{"$schema", "http://json-schema.org/draft-07/schema#"},
              {"title", "Lampside journal, version 1: one entry"},
              {"type", "object"},
              {"required", {"id", "litter", "at", "kind"}},
              {"properties",
               {{"id", uuid},
                {"litter", {{"type", "string"}, {"minLength", 1}, {"maxLength", 64}}},
                {"at", time},
                {"written", time},
                {"by", text(8192)},
                {"kind", {{"type", "string"}, {"minLength", 1}, {"maxLength", 64}}},
                {"about", text(64)},
                {"note", text(8192)},
                {"corrects", uuid}}},
              {"allOf", Json::array()}};
  [&]<class... S>(std::variant<S...>*) { (add_kind<S>(out["allOf"]), ...); }(static_cast<AnyBody*>(nullptr));
  return out;
}

}  // namespace lampside::record
