// The journal, version 1: what happened, as somebody wrote it down. An entry is never changed.
#pragma once

#include <cstddef>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "record/kinds.hpp"

namespace lampside::record {

using Json = nlohmann::json;

/// What was written down. A type of its own, so that its special members are compiled once (entry.cpp) and not in every
/// file that copies an entry: a variant this wide costs the compiler seconds each time.
using AnyBody =
    std::variant<Note, LitterFacts, Mating, LhSurge, Ovulation, Dioestrus, Progesterone, FoetalMeasure, PupCount,
                 EarlierLitter, Temperature, SignSeen, Birth, PlacentaPassed, NewbornScore, Weight, Feed, DamMeal, Air,
                 Lamp, Dose, DoseSkipped, Product, Done, CareChoice, CareEdit, CareOwn, Later, Microchip, Procedure,
                 Wound, Death, Departure, Stock, ShopRun, Suckled, StageSaid, HouseLimit, Photo, Milk, Food,
                 HandFeeding, TeatTurns, Sensor, Family, Deposit, Choice, PickRule, BehaviourTest, Handover, MoneyMoved,
                 Contract, Consent, FollowUp, Erased, Strike, Other>;
struct Body : AnyBody {
  using AnyBody::AnyBody;
  Body();
  Body(const Body&);
  Body(Body&&) noexcept;
  Body& operator=(const Body&);
  Body& operator=(Body&&) noexcept;
  ~Body();
  bool operator==(const Body& other) const;
};

/// Fields this program does not know, kept as they came: a JSON object. Held apart, so that who knows an entry need not
/// read the JSON library.
class Unread {
 public:
  Unread();
  explicit Unread(Json object);
  Unread(const Unread&);
  Unread(Unread&&) noexcept;
  Unread& operator=(const Unread&);
  Unread& operator=(Unread&&) noexcept;
  ~Unread();
  bool operator==(const Unread& other) const;
  [[nodiscard]] const Json& json() const;
  [[nodiscard]] bool empty() const { return !object_; }

 private:
  std::unique_ptr<Json> object_;  ///< nothing when there are none
};

struct Entry {
  EntryId id;
  std::string litter;
  Stamp at;       ///< when it happened
  Stamp written;  ///< when it was recorded
  std::string by;
  std::string kind;   ///< the JSON name; for every Body but Other it is fixed by the body's type
  std::string about;  ///< "dam", a pup's label, or empty for the litter
  std::string note;
  std::optional<EntryId> corrects;
  Body body;
  Unread extra;
  bool operator==(const Entry&) const = default;
};

template <class T>
const T* body_as(const Entry& e) {
  return std::get_if<T>(&e.body);
}

/// One entry from one JSON object. Checks the shape and that values are plausible: implausible is refused with
/// advice (380 °C), abnormal is taken (35.1 °C in a dam) and left to the assessment.
/// Errors: ENTRY_SHAPE, ENTRY_MISSING, ENTRY_TYPE, ENTRY_VALUE, ENTRY_IMPLAUSIBLE, ENTRY_ID, TIME_*, DAY_*.
Result<Entry> decode(const Json& object);
/// One line of JSON Lines. Errors: as above, JSON_SYNTAX, LINE_TOO_LONG (over 64 KiB).
Result<Entry> decode_line(std::string_view line);
/// The same checks on an entry made in memory (a form). Errors: as above, TEXT_UTF8.
Result<void> check(const Entry& entry);
Json encode(const Entry& entry);
std::string encode_line(const Entry& entry);  ///< one line, keys sorted, no newline

/// The JSON name of a kind; for a body of type Other the caller keeps Entry::kind.
std::string_view kind_of(const Body& body);
/// Makes an entry of a body with `kind` filled in. `written` and `by` as given.
Entry make_entry(EntryId id, std::string litter, Stamp at, Stamp written, std::string by, std::string about, Body body);

/// The JSON Schema (2020-12 dialect keywords that draft 7 shares) of one entry, made from the same field tables.
Json schema();

std::string_view name_of(Sign s);  ///< "strong_straining"
std::string_view name_of(LabourStage s);
std::string_view name_of(Sex s);  ///< "female", "male"
std::string_view name_of(MatingMethod m);
std::string_view name_of(Basis b);
std::string_view name_of(ProductUse u);
std::string_view name_of(AirPlace p);
std::string_view name_of(Probe p);
std::string_view name_of(FeedShare s);
std::string_view name_of(FamilyStatus s);
std::string_view name_of(PickOrder o);
std::string_view name_of(ChoiceMade c);
std::string_view name_of(MoneyWay w);
std::string_view name_of(Presentation p);
std::string_view name_of(FeedWay w);
std::string_view name_of(CountMethod m);
std::string_view name_of(Keeping k);          ///< "kit", "house", "to_make", "to_buy"
std::string_view name_of(WeightUnit u);       ///< "g", "oz", "kg", "lb"
std::string_view name_of(TemperatureUnit u);  ///< "C", "F"
template <class E>
std::optional<E> from_name(std::string_view name);  ///< for each enum above

}  // namespace lampside::record
