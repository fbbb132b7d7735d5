#include "build/life_table.hpp"

namespace rollwright::build {
namespace {

using enum trade::OrderState;
using enum Hat;
using enum LifeNeed;

// What the shop says when a bike goes to the rider, in the shop or at the end of the road.
const std::vector<std::string_view> kHandover = {"balance", "rider_fitted", "documents_given",
                                                 "counted", "signature"};

std::vector<LifeMove> forward() {
  return {
      {kEnquiry, kDraft, LifeRoad::kAny, {kAdviser},
       {kContact, kUse, kMeasures, kNeededBy}, {"budget"}},
      {kDraft, kOffer, LifeRoad::kAny, {kAdviser},
       {kSlots, kFits, kNotKnownOwned, kCostsDated, kValidUntil}, {"window", "valid_until"}, false, {"finds_out"}},
      {kOffer, kAgreed, LifeRoad::kAny, {kAdviser},
       {kSlots, kFits, kStopsKnown, kMass, kStillValid, kSigned, kDeposit, kPromisedDay},
       {"terms_shown", "mass_confirmed", "lever_side", "region_class", "recall_consent"}},
      {kAgreed, kGathering, LifeRoad::kShopBuilt, {kBuyer}, {kSigned, kAllBought}, {}},
      {kAgreed, kAtMaker, LifeRoad::kMakerBuilt, {kBuyer},
       {kSigned, kFormSent, kDifferencesAnswered}, {"maker_number", "maker_price", "maker_week"}},
      {kGathering, kKitted, LifeRoad::kShopBuilt, {kGoodsIn, kLead},
       {kSigned, kKitPutBy, kFits, kFitKnown}, {}},
      {kKitted, kBuilding, LifeRoad::kShopBuilt, {kLead}, {kSigned, kWorkPlanned},
       {"instructions", "tools_calibrated"}},
      {kBuilding, kChecking, LifeRoad::kShopBuilt, {kMechanic},
       {kSigned, kWorkDone, kReadings, kReadingsInside, kNoRedo, kNoStop}, {}},
      {kAtMaker, kUnderWay, LifeRoad::kMakerBuilt, {kBuyer},
       {kSigned, kMakerList, kDifferencesAnswered},
       {"finished", "maker_photographs", "maker_serials", "box_list", "battery_papers",
        "carrier"}},
      {kUnderWay, kArrived, LifeRoad::kMakerBuilt, {kGoodsIn}, {},
       {"delivery_paper", "box_photographs", "damage_noted"}},
      {kArrived, kFinishing, LifeRoad::kMakerBuilt, {kGoodsIn, kLead},
       {kSigned, kAsBuilt, kDifferencesAnswered, kArrivalLines},
       {"opened_in_time", "box_list_matches", "looked_over"}},
      {kFinishing, kChecking, LifeRoad::kMakerBuilt, {kMechanic},
       {kSigned, kWorkDone, kFinalLines, kReadings, kReadingsInside, kNoRedo, kNoStop}, {}},
      {kChecking, kReady, LifeRoad::kAny, {kSecondPerson},
       {kSigned, kAnotherPerson, kChecksDone, kStopLines, kTestRide, kReadings, kReadingsInside,
        kNoRedo, kNoStop, kValuesKnown, kFits, kStopsKnown, kDifferencesSettled,
        kNumbersAgree},
       {"read_back", "papers_complete"}, false, {"worked_by"}},
      {kReady, kHandedOver, LifeRoad::kFetched, {kAdviser}, {kSigned, kTalkLines, kNoStop},
       kHandover},
      {kReady, kBoxed, LifeRoad::kByFreight, {kPacker}, {kSigned, kNoStop},
       {"packing_list", "box_photographs", "battery_rules"}},
      {kBoxed, kOnTheRoad, LifeRoad::kByFreight, {kPacker}, {},
       {"insurance_value", "receiver_told"}},
      {kOnTheRoad, kDelivered, LifeRoad::kByFreight, {kPacker}, {}, {}},
      {kDelivered, kHandedOver, LifeRoad::kByFreight, {kAdviser},
       {kSigned, kTalkLines, kNoStop},
       kHandover},
      {kHandedOver, kInCare, LifeRoad::kAny, {kAdviser, kOwner}, {kSerials},
       {"first_service", "warranty_started"}},
      {kInCare, kClosed, LifeRoad::kAny, {kOwner}, {kNoVisit}, {"why_closed"}},
  };
}

// A check that fails sends the bike back to named operations; what they touched is checked again.
std::vector<LifeMove> back() {
  const std::vector<Hat> who = {kSecondPerson, kLead};
  const std::vector<std::string_view> says = {"operations", "why_back"};
  return {{kChecking, kBuilding, LifeRoad::kShopBuilt, who, {kOperationsNamed}, says, true},
          {kChecking, kFinishing, LifeRoad::kMakerBuilt, who, {kOperationsNamed}, says, true}};
}

bool is_before_handed_over(trade::OrderState state) {
  return !trade::is_over(state);
}

}  // namespace

bool is_on(LifeRoad road, const LifeFacts& facts) {
  switch (road) {
    case LifeRoad::kAny: return true;
    case LifeRoad::kShopBuilt: return !facts.maker_built;
    case LifeRoad::kMakerBuilt: return facts.maker_built;
    case LifeRoad::kFetched: return !facts.by_freight;
    case LifeRoad::kByFreight: return facts.by_freight;
  }
  broken_promise("every road has its meaning", __FILE__, __LINE__);
}

const std::vector<LifeMove>& life_moves() {
  static const std::vector<LifeMove> kMoves = [] {
    std::vector<LifeMove> moves = forward();
    for (LifeMove& move : back()) moves.push_back(std::move(move));
    for (const trade::OrderState state : trade::all_states()) {
      if (!is_before_handed_over(state)) continue;
      moves.push_back({state, kCancelled, LifeRoad::kAny, {kOwner},
                       {kSettlement, kLinesSettled}, {"reason", "settlement"}, false, {"keep_lines"}});
    }
    return moves;
  }();
  return kMoves;
}

const std::vector<LifeFlag>& life_flags() {
  static const std::vector<LifeFlag> kFlags = {
      {"Stop-sale",
       {kOffer, kAgreed, kGathering, kAtMaker, kKitted, kBuilding, kFinishing, kChecking, kReady,
        kBoxed, kOnTheRoad, kHandedOver},
       "a part is under a stop-sale: it may be neither sold nor built in until it is replaced or "
       "cleared"},
      {"Change open",
       {kAgreed, kGathering, kAtMaker, kKitted, kBuilding, kFinishing, kChecking, kReady, kBoxed,
        kHandedOver},
       "a change is open: it has to be signed or taken back first"},
      {"Money open",
       {kBoxed, kHandedOver},
       "money is open"},
  };
  return kFlags;
}

}  // namespace rollwright::build
