#include "trade/order.hpp"

#include "base/result.hpp"

namespace rollwright::trade {
namespace {

struct StateRow {
  OrderState state;
  std::string_view word;
  bool live;  // needs parts and hours
};

// In the order in which a bike lives through them.
constexpr StateRow kStates[] = {
    {OrderState::kEnquiry, "Enquiry", false},
    {OrderState::kDraft, "Draft", false},
    {OrderState::kOffer, "Offer", false},
    {OrderState::kAgreed, "Agreed", true},
    {OrderState::kGathering, "Gathering", true},
    {OrderState::kKitted, "Kitted", true},
    {OrderState::kBuilding, "Building", true},
    {OrderState::kAtMaker, "At maker", true},
    {OrderState::kUnderWay, "Under way", true},
    {OrderState::kArrived, "Arrived", true},
    {OrderState::kFinishing, "Finishing", true},
    {OrderState::kChecking, "Checking", true},
    {OrderState::kReady, "Ready", true},
    {OrderState::kBoxed, "Boxed", true},
    {OrderState::kOnTheRoad, "On the road", true},
    {OrderState::kDelivered, "Delivered", true},
    {OrderState::kHandedOver, "Handed over", false},
    {OrderState::kInCare, "In care", false},
    {OrderState::kClosed, "Closed", false},
    {OrderState::kCancelled, "Cancelled", false},
};

const StateRow& row_of(OrderState state) {
  for (const StateRow& row : kStates) {
    if (row.state == state) return row;
  }
  broken_promise("every order state has a row", __FILE__, __LINE__);
}

}  // namespace

std::string_view word_of(OrderState state) { return row_of(state).word; }

std::optional<OrderState> state_named(std::string_view word) {
  for (const StateRow& row : kStates) {
    if (row.word == word) return row.state;
  }
  return std::nullopt;
}

std::string_view word_of(Answer answer) {
  switch (answer) {
    case Answer::kNotYet: return "not yet";
    case Answer::kYes: return "yes";
    case Answer::kNo: return "no";
  }
  broken_promise("every answer has a word", __FILE__, __LINE__);
}

std::optional<Answer> answer_named(std::string_view word) {
  for (const Answer answer : {Answer::kNotYet, Answer::kYes, Answer::kNo}) {
    if (word_of(answer) == word) return answer;
  }
  return std::nullopt;
}

bool is_before_agreed(OrderState state) {
  return state == OrderState::kEnquiry || state == OrderState::kDraft ||
         state == OrderState::kOffer;
}

bool is_live(OrderState state) { return row_of(state).live; }

bool is_over(OrderState state) {
  using enum OrderState;
  return state == kHandedOver || state == kInCare || state == kClosed || state == kCancelled;
}

const std::vector<std::string>& all_flags() {
  static const std::vector<std::string> kFlags = {"Held",      "Change open", "Date at risk",
                                                  "Stop-sale", "Claim open",  "Money open"};
  return kFlags;
}

const std::vector<OrderState>& all_states() {
  static const std::vector<OrderState> kAll = [] {
    std::vector<OrderState> all;
    for (const StateRow& row : kStates) all.push_back(row.state);
    return all;
  }();
  return kAll;
}

}  // namespace rollwright::trade
