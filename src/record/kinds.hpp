// What can be written down: one struct a kind. Their JSON names, limits and advice stand in fields.hpp, once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/quantity.hpp"
#include "measure/text.hpp"
#include "measure/time.hpp"
#include "record/enums.hpp"

namespace lampside::record {

/// A UUID in lower case ("8-4-4-4-12" hex digits), made by the device that wrote the entry.
using EntryId = std::string;

struct Parent {  ///< nested in LitterFacts
  std::optional<std::string> name, breed;
  std::optional<CivilDay> born;
  std::optional<Kilograms> kg;
  std::optional<int> parity;  ///< litters before this one
  bool operator==(const Parent&) const = default;
};
struct UnitChoice {  ///< the keeper's units; in JSON {"weight": "oz", "temperature": "F"}, or "metric", "imperial"
  std::optional<WeightUnit> weight;
  std::optional<TemperatureUnit> temperature;
  bool operator==(const UnitChoice&) const = default;
};
struct Vet {
  std::optional<std::string> phone, night_phone;
  std::optional<int> minutes_away;
  bool operator==(const Vet&) const = default;
};

// One struct a kind; the JSON names, limits and advice of each field stand in fields.hpp, once.
struct LitterFacts {  // "litter"; several are laid over each other, later ones win field by field
  std::optional<Parent> dam, sire;
  std::optional<Kilograms> adult_kg;
  std::optional<std::string> zone;  ///< IANA name, "Europe/Berlin"
  std::optional<UnitChoice> units;
  std::optional<std::string> place;  ///< ISO 3166, "GB-ENG"
  std::optional<Vet> vet;
  std::optional<Grams> scale_g;  ///< the scale's resolution
  bool operator==(const LitterFacts&) const = default;
};
struct Mating {
  std::optional<MatingMethod> method;
  bool operator==(const Mating&) const = default;
};
struct LhSurge {
  bool operator==(const LhSurge&) const = default;
};
struct Ovulation {
  bool operator==(const Ovulation&) const = default;
};
struct Dioestrus {
  bool operator==(const Dioestrus&) const = default;
};
struct Progesterone {
  NgPerMl ng_ml;
  bool operator==(const Progesterone&) const = default;
};
struct FoetalMeasure {
  std::string measure;
  Millimetres mm;
  bool operator==(const FoetalMeasure&) const = default;
};
struct PupCount {
  CountMethod method;
  int pups;
  std::optional<bool> at_least;
  bool operator==(const PupCount&) const = default;
};
struct EarlierLitter {
  Anchor from;
  Days days;
  std::optional<int> born_alive, stillborn, weaned;
  std::optional<Percent> gain_pct;  ///< its pups' gain against the usual, 100 as usual
  bool operator==(const EarlierLitter&) const = default;
};
struct Temperature {
  Celsius celsius;
  std::optional<std::string> as_read;
  bool operator==(const Temperature&) const = default;
};
struct SignSeen {
  Sign sign;
  bool operator==(const SignSeen&) const = default;
};
struct Birth {
  std::optional<int> order;
  std::optional<Sex> sex;
  std::optional<Grams> grams;
  std::optional<bool> alive;  ///< absent means alive
  std::optional<Presentation> presentation;
  std::optional<bool> placenta;
  std::optional<std::string> collar, markings;
  std::optional<std::string> as_read;
  std::optional<bool> airway_cleared, cord_tied;
  bool operator==(const Birth&) const = default;
};
struct PlacentaPassed {
  bool operator==(const PlacentaPassed&) const = default;
};
struct NewbornScore {
  int heart, breathing, reflex, movement, colour;  ///< each 0-2
  [[nodiscard]] int total() const { return heart + breathing + reflex + movement + colour; }
  bool operator==(const NewbornScore&) const = default;
};
struct Weight {
  Grams grams;  ///< tub already taken off
  std::optional<std::string> as_read;
  std::optional<Grams> tare_g;
  bool operator==(const Weight&) const = default;
};
struct Feed {
  Millilitres ml;
  FeedWay by;
  std::optional<KcalPerMl> kcal_ml;
  bool operator==(const Feed&) const = default;
};
struct DamMeal {
  std::optional<Kilocalories> kcal;
  std::optional<Grams> grams;
  std::optional<std::string> food;
  bool operator==(const DamMeal&) const = default;
};
struct Air {
  Celsius celsius;
  AirPlace where;
  std::optional<Percent> humidity{};
  std::optional<std::string> sensor{};  ///< the topic it came from; absent: read by hand
  std::optional<Probe> probe{};
  bool operator==(const Air&) const = default;
};
struct Lamp {
  Watts watts;
  Centimetres cm;
  std::optional<bool> off{};
  bool operator==(const Lamp&) const = default;
};
/// A milk replacer as its tin says; of several with one name the latest holds.
struct Milk {
  std::string name;
  std::optional<KcalPerMl> kcal_ml;  ///< as mixed
  std::optional<Grams> powder_g;     ///< in that much water
  std::optional<Millilitres> water_ml;
  std::optional<double> powder_kcal_g;  ///< kcal of one gram of powder
  bool operator==(const Milk&) const = default;
};
struct Food {  ///< the dam's, as its label says
  std::string name;
  std::optional<Kilocalories> kcal_100g;  ///< of 100 g as fed
  bool operator==(const Food&) const = default;
};
struct HandFeeding {  ///< "hand_feeding": what the keeper decided for a pup
  FeedShare share;
  std::optional<FeedWay> way;
  bool operator==(const HandFeeding&) const = default;
};
struct TeatTurns {  ///< "teat_turns": the litter takes turns; later ones win field by field
  std::optional<bool> on;
  std::optional<int> teats;  ///< that give milk
  std::optional<int> session_min;
  std::optional<int> night_from_h, night_to_h;  ///< the keeper would like to sleep between these hours of the day
  bool operator==(const TeatTurns&) const = default;
};
/// A room sensor: what it publishes on that topic is the temperature there.
struct Sensor {
  std::string topic;
  AirPlace where;
  std::optional<std::string> field;  ///< of the JSON object it publishes; absent: it publishes a plain number
  std::optional<TemperatureUnit> unit;
  std::optional<bool> off;
  bool operator==(const Sensor&) const = default;
};
struct Dose {
  std::string product;
  std::optional<std::string> active;
  std::optional<MgPerMl> mg_ml;
  std::optional<Millilitres> ml;
  std::optional<std::string> lot;
  std::optional<Tablets> tablets;
  std::optional<Grams> grams;     ///< of the product
  std::optional<Grams> weight_g;  ///< the weight it was worked out for
  bool operator==(const Dose&) const = default;
};
/// A dog left out of a round of doses, and why.
struct DoseSkipped {  // "dose_skipped"
  std::string product, reason;
  bool operator==(const DoseSkipped&) const = default;
};
/// A product as its label says, in the label's own words where they are more than a number: `strength` and `dose` are
/// kept as typed and read by care/label. Of several with one name the latest holds (a new bottle).
struct Product {
  std::string name;
  std::optional<std::string> active;    ///< "febantel + pyrantel"
  std::optional<std::string> strength;  ///< "15 + 5 mg/ml", "22.7 mg/tablet"
  std::optional<Basis> strength_as, dose_as;
  std::optional<double> salt_per_base;
  std::optional<std::string> dose;  ///< "5 mg/kg", "up to 5 lb: 4.54 mg/lb; over 5 lb: 2.27 mg/lb", "0.9-1.8 kg: 1/2"
  std::optional<bool> for_dam;      ///< the label allows it for a nursing bitch
  std::optional<bool> at_least;     ///< the label calls it a minimum
  std::optional<double> at_most;    ///< ml, tablets or grams at once
  std::optional<Days> min_age_d;
  std::optional<Kilograms> min_kg;
  std::optional<Days> repeat_d;  ///< from the first day of one course to the next
  std::optional<int> days_in_row;
  std::optional<int> parts;  ///< a tablet may be cut into so many
  std::optional<Millilitres> mark_ml;
  std::optional<Grams> mark_g;
  std::optional<std::string> lot;
  std::optional<CivilDay> opened, expires;
  std::optional<Days> keeps_open_d;
  std::optional<ProductUse> use;  ///< absent means wormer
  std::optional<bool> confirmed;  ///< asked about an odd strength, the keeper read the label again
  bool operator==(const Product&) const = default;
};
/// The task by which a keeper says that a doubted weight is right as written; the entry's id follows.
inline constexpr std::string_view kReadingRight = "reading_right ";
struct Done {
  std::string task;
  bool operator==(const Done&) const = default;
};
/// What the keeper makes of the plan of care. `task` is the task's id with its round, "worm.2".
struct CareChoice {  ///< "care_choice": which of the ways of doing a thing is followed
  std::string topic, set;
  std::optional<std::string> vet;  ///< the vet who decided with the keeper; needed where a law asks for one
  bool operator==(const CareChoice&) const = default;
};
struct CareEdit {  ///< "care_edit": a task moved or dropped; later ones of the same task and animal win field by field
  std::string task;
  std::optional<int> shift_d;
  std::optional<bool> drop;
  std::string why;
  bool operator==(const CareEdit&) const = default;
};
struct CareOwn {  ///< "care_own": a task of the keeper's own
  std::string what;
  CivilDay day;
  std::optional<CivilDay> last_day;
  std::optional<bool> each_pup{};  ///< to be done, and ticked, for every pup by itself
  bool operator==(const CareOwn&) const = default;
};
struct Later {  ///< "later": not before that day, and why
  std::string task;
  CivilDay until;
  std::string why;
  bool operator==(const Later&) const = default;
};
struct Microchip {
  std::string number;  ///< as text: zeros in front count
  std::optional<std::string> database;
  bool operator==(const Microchip&) const = default;
};
struct Procedure {  ///< something was cut or stitched; from then on the wound is looked at daily
  std::string what;
  std::optional<std::string> vet;
  bool operator==(const Procedure&) const = default;
};
struct Wound {  ///< a look at a wound; absent is no
  std::optional<bool> bleeding, swelling, heat, discharge;
  bool operator==(const Wound&) const = default;
};
struct Death {
  std::optional<std::string> cause;
  bool operator==(const Death&) const = default;
};
struct Departure {
  std::optional<std::string> to;
  bool operator==(const Departure&) const = default;
};
/// What is known of one item; several entries of one item are laid over each other, later ones win field by field.
struct Stock {
  std::string item;
  std::optional<Amount> have;
  std::optional<Keeping> where;
  std::optional<CivilDay> expires;
  std::optional<CivilDay> tested;      ///< tried, and it worked
  std::optional<Amount> pack;          ///< so much in a pack
  std::optional<Money> cost;           ///< of one pack
  std::optional<Amount> need;          ///< the keeper's own amount for the litter
  std::optional<Amount> need_per_pup;  ///< and for each pup
  std::optional<int> days_before;      ///< in the house so many days before she is due
  std::optional<std::string> unit, purpose;
  std::optional<bool> wanted;       ///< false: this keeper does without
  std::optional<std::string> from;  ///< the earlier litter it is left over from
  std::optional<Amount> used;       ///< so much less than before; several add up
  std::optional<CivilDay> opened;   ///< the pack in use
  std::optional<Days> keeps_open_d;
  std::optional<bool> car;             ///< goes into the car to the vet; absent: as the tables have it
  std::optional<std::string> cleared;  ///< names of fields that hold no longer, a blank between them
  bool operator==(const Stock&) const = default;
};
/// A day on which somebody goes shopping.
struct ShopRun {
  CivilDay day;
  bool operator==(const ShopRun&) const = default;
};
struct Suckled {  ///< a pup was seen to suck and swallow at a teat; without a pup: all born so far
  bool operator==(const Suckled&) const = default;
};
struct StageSaid {  ///< "labour_stage"
  LabourStage stage;
  bool operator==(const StageSaid&) const = default;
};
/// Ring earlier than the tables say: the keeper's or their vet's own limit for one red flag.
struct HouseLimit {
  std::string code;
  int min;
  std::string who;  ///< who said so
  bool operator==(const HouseLimit&) const = default;
};
struct Photo {
  std::string file, sha256;
  bool operator==(const Photo&) const = default;
};
/// A family is an id without meaning. Who they are is kept apart from the journal, where it can be erased.
/// Several entries of one family are laid over each other, later ones win field by field.
struct Family {
  std::string family;
  std::optional<FamilyStatus> status;
  std::optional<Sex> sex;  ///< what they look for
  std::optional<std::string> colour, purpose;
  std::optional<CivilDay> earliest;
  std::optional<std::string> why;  ///< of the status
  bool operator==(const Family&) const = default;
};
struct Deposit {
  std::string family;
  Cash amount;
  std::optional<std::string> currency;    ///< ISO 4217
  std::optional<std::string> refundable;  ///< as agreed, in words
  std::optional<bool> returned;
  bool operator==(const Deposit&) const = default;
};
/// A pup picked or given up again (`about`), or a turn passed. Without a family it is the keeper's own.
struct Choice {
  ChoiceMade made;
  std::optional<std::string> family, why;
  bool operator==(const Choice&) const = default;
};
struct PickRule {  ///< "pick_rule"; the latest holds
  PickOrder order;
  std::optional<int> keeper_first;  ///< how many pups the keeper picks before the families
  std::optional<CivilDay> opens;
  bool operator==(const PickRule&) const = default;
};
struct BehaviourTest {  ///< "behaviour_test": ten sub-tests, each 1-6, never averaged
  int attraction, following, restraint, dominance, elevation, retrieving, touch, sound, sight, stability;
  bool operator==(const BehaviourTest&) const = default;
};
struct Handover {
  std::optional<std::string> family;
  std::optional<std::string> chip_read;  ///< as scanned on the day
  std::optional<bool> contract_signed, papers;
  std::optional<std::string> exception;  ///< why it may leave before the lawful age, in the vet's words
  std::optional<std::string> vet;
  bool operator==(const Handover&) const = default;
};
struct MoneyMoved {  // "money"
  Cash amount;       ///< never negative: `direction` says which way
  MoneyWay direction;
  std::string what_for;
  std::optional<std::string> currency, family, paid_by;
  std::optional<std::string> receipt;  ///< the SHA-256 of its picture
  bool operator==(const MoneyMoved&) const = default;
};
struct Contract {  ///< the keeper's own clauses; the latest holds
  std::string clauses;
  bool operator==(const Contract&) const = default;
};
struct Consent {
  std::string family, what;
  bool given;
  bool operator==(const Consent&) const = default;
};
struct FollowUp {  ///< "follow_up": news of a pup after it left
  std::optional<Grams> grams;
  std::optional<std::string> news;
  bool operator==(const FollowUp&) const = default;
};
struct Erased {  ///< who this family was is no longer kept
  std::string family;
  bool operator==(const Erased&) const = default;
};
struct Note {
  bool operator==(const Note&) const = default;
};
struct Strike {
  EntryId strike;
  bool operator==(const Strike&) const = default;
};
/// A kind this program does not interpret (a newer one's): kept whole in Entry::extra, shown as a note, handed out
/// again unchanged.
struct Other {
  bool operator==(const Other&) const = default;
};

}  // namespace lampside::record
