#include "server/form_kinds.hpp"

#include <algorithm>
#include <array>

namespace lampside::server {
namespace {

constexpr auto kNumber = FieldOf::Type::number;
constexpr auto kYesNo = FieldOf::Type::yes_no;
constexpr FieldOf kMating[] = {{"method"}};
constexpr FieldOf kProgesterone[] = {{"ng_ml", kNumber}};
constexpr FieldOf kFoetal[] = {{"measure"}, {"mm", kNumber}};
constexpr FieldOf kCount[] = {{"method"}, {"pups", kNumber}, {"at_least", kYesNo}};
constexpr FieldOf kEarlier[] = {{"from"},
                                {"days", kNumber},
                                {"born_alive", kNumber},
                                {"stillborn", kNumber},
                                {"weaned", kNumber},
                                {"gain_pct", kNumber}};
constexpr FieldOf kSign[] = {{"sign"}};
constexpr FieldOf kBirth[] = {{"order", kNumber},   {"sex"},    {"alive", kYesNo}, {"presentation"},
                              {"placenta", kYesNo}, {"collar"}, {"markings"},      {"airway_cleared", kYesNo},
                              {"cord_tied", kYesNo}};
constexpr FieldOf kStage[] = {{"stage"}};
constexpr FieldOf kHouse[] = {{"code"}, {"min", kNumber}, {"who"}};
constexpr FieldOf kScore[] = {
    {"heart", kNumber}, {"breathing", kNumber}, {"reflex", kNumber}, {"movement", kNumber}, {"colour", kNumber}};
constexpr FieldOf kFeed[] = {{"ml", kNumber}, {"by"}, {"kcal_ml", kNumber}};
constexpr FieldOf kMeal[] = {{"kcal", kNumber}, {"grams", kNumber}, {"food"}};
constexpr FieldOf kAir[] = {{"where"}, {"humidity", kNumber}, {"probe"}};
constexpr FieldOf kLamp[] = {{"watts", kNumber}, {"cm", kNumber}, {"off", kYesNo}};
constexpr FieldOf kMilk[] = {
    {"name"}, {"kcal_ml", kNumber}, {"powder_g", kNumber}, {"water_ml", kNumber}, {"powder_kcal_g", kNumber}};
constexpr FieldOf kHandFeeding[] = {{"share"}, {"way"}};
constexpr FieldOf kDose[] = {{"product"}, {"active"},           {"mg_ml", kNumber}, {"ml", kNumber},
                             {"lot"},     {"tablets", kNumber}, {"grams", kNumber}, {"weight_g", kNumber}};
constexpr FieldOf kDoseSkipped[] = {{"product"}, {"reason"}};
constexpr FieldOf kProduct[] = {{"name"},
                                {"active"},
                                {"strength"},
                                {"strength_as"},
                                {"dose_as"},
                                {"salt_per_base", kNumber},
                                {"dose"},
                                {"for_dam", kYesNo},
                                {"at_least", kYesNo},
                                {"at_most", kNumber},
                                {"min_age_d", kNumber},
                                {"min_kg", kNumber},
                                {"repeat_d", kNumber},
                                {"days_in_row", kNumber},
                                {"parts", kNumber},
                                {"mark_ml", kNumber},
                                {"mark_g", kNumber},
                                {"lot"},
                                {"opened"},
                                {"expires"},
                                {"keeps_open_d", kNumber},
                                {"use"},
                                {"confirmed", kYesNo}};
constexpr FieldOf kDone[] = {{"task"}};
constexpr FieldOf kChoice[] = {{"topic"}, {"set"}, {"vet"}};
constexpr FieldOf kEdit[] = {{"task"}, {"shift_d", kNumber}, {"drop", kYesNo}, {"why"}};
constexpr FieldOf kOwn[] = {{"what"}, {"day"}, {"last_day"}, {"each_pup", kYesNo}};
constexpr FieldOf kLater[] = {{"task"}, {"until"}, {"why"}};
constexpr FieldOf kChip[] = {{"number"}, {"database"}};
constexpr FieldOf kProcedure[] = {{"what"}, {"vet"}};
constexpr FieldOf kWound[] = {{"bleeding", kYesNo}, {"swelling", kYesNo}, {"heat", kYesNo}, {"discharge", kYesNo}};
constexpr FieldOf kDeath[] = {{"cause"}};
constexpr FieldOf kDeparture[] = {{"to"}};
constexpr FieldOf kStock[] = {{"item"},           {"where"},       {"expires"},
                              {"tested"},         {"opened"},      {"keeps_open_d", kNumber},
                              {"unit"},           {"purpose"},     {"days_before", kNumber},
                              {"wanted", kYesNo}, {"car", kYesNo}, {"cleared"}};
constexpr FieldOf kFamily[] = {{"family"}, {"status"}, {"sex"}, {"colour"}, {"purpose"}, {"earliest"}, {"why"}};
constexpr FieldOf kDeposit[] = {{"family"}, {"amount", kNumber}, {"currency"}, {"refundable"}, {"returned", kYesNo}};
constexpr FieldOf kPick[] = {{"family"}, {"made"}, {"why"}};
constexpr FieldOf kRule[] = {{"order"}, {"keeper_first", kNumber}, {"opens"}};
constexpr FieldOf kBehaviour[] = {{"attraction", kNumber}, {"following", kNumber}, {"restraint", kNumber},
                                  {"dominance", kNumber},  {"elevation", kNumber}, {"retrieving", kNumber},
                                  {"touch", kNumber},      {"sound", kNumber},     {"sight", kNumber},
                                  {"stability", kNumber}};
constexpr FieldOf kMoney[] = {{"amount", kNumber}, {"direction"}, {"for"},    {"currency"},
                              {"family"},          {"paid_by"},   {"receipt"}};
constexpr FieldOf kConsent[] = {{"family"}, {"what"}, {"given", kYesNo}};
constexpr FieldOf kShopRun[] = {{"day"}};
constexpr FieldOf kFood[] = {{"name"}, {"kcal_100g", kNumber}};
constexpr FieldOf kTurns[] = {
    {"on", kYesNo}, {"teats", kNumber}, {"session_min", kNumber}, {"night_from_h", kNumber}, {"night_to_h", kNumber}};
constexpr FieldOf kPhoto[] = {{"file"}, {"sha256"}};
constexpr FieldOf kHandover[] = {{"family"},         {"chip_read"}, {"signed", kYesNo},
                                 {"papers", kYesNo}, {"exception"}, {"vet"}};
constexpr FieldOf kSensor[] = {{"topic"}, {"where"}, {"field"}, {"unit"}, {"off", kYesNo}};
constexpr FieldOf kContract[] = {{"clauses"}};
constexpr FieldOf kFollowUp[] = {{"grams", kNumber}, {"news"}};

const std::array kKinds{FormKind{"mating", kMating},
                        FormKind{"lh_surge", {}},
                        FormKind{"ovulation", {}},
                        FormKind{"dioestrus", {}},
                        FormKind{"progesterone", kProgesterone},
                        FormKind{"foetal_measure", kFoetal},
                        FormKind{"pup_count", kCount},
                        FormKind{"earlier_litter", kEarlier},
                        FormKind{"temperature", {}},
                        FormKind{"sign", kSign},
                        FormKind{"birth", kBirth},
                        FormKind{"placenta", {}},
                        FormKind{"newborn_score", kScore},
                        FormKind{"weight", {}},
                        FormKind{"feed", kFeed},
                        FormKind{"dam_meal", kMeal},
                        FormKind{"food", kFood},
                        FormKind{"teat_turns", kTurns},
                        FormKind{"air", kAir},
                        FormKind{"lamp", kLamp},
                        FormKind{"milk", kMilk},
                        FormKind{"hand_feeding", kHandFeeding},
                        FormKind{"dose", kDose},
                        FormKind{"dose_skipped", kDoseSkipped},
                        FormKind{"product", kProduct},
                        FormKind{"done", kDone},
                        FormKind{"care_choice", kChoice},
                        FormKind{"care_edit", kEdit},
                        FormKind{"care_own", kOwn},
                        FormKind{"later", kLater},
                        FormKind{"microchip", kChip},
                        FormKind{"procedure", kProcedure},
                        FormKind{"wound", kWound},
                        FormKind{"death", kDeath},
                        FormKind{"departure", kDeparture},
                        FormKind{"stock", kStock},
                        FormKind{"shop_run", kShopRun},
                        FormKind{"family", kFamily},
                        FormKind{"deposit", kDeposit},
                        FormKind{"choice", kPick},
                        FormKind{"pick_rule", kRule},
                        FormKind{"behaviour_test", kBehaviour},
                        FormKind{"money", kMoney},
                        FormKind{"consent", kConsent},
                        FormKind{"suckled", {}},
                        FormKind{"labour_stage", kStage},
                        FormKind{"house_limit", kHouse},
                        FormKind{"sensor", kSensor},
                        FormKind{"photo", kPhoto},
                        FormKind{"handover", kHandover},
                        FormKind{"contract", kContract},
                        FormKind{"follow_up", kFollowUp},
                        FormKind{"note", {}}};

}  // namespace

const FormKind* form_kind(std::string_view kind) {
  const auto found = std::find_if(kKinds.begin(), kKinds.end(), [&](const FormKind& k) { return k.kind == kind; });
  return found == kKinds.end() ? nullptr : &*found;
}

}  // namespace lampside::server
