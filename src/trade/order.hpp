#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/id.hpp"
#include "trade/enquiry.hpp"
#include "trade/part.hpp"
#include "units/money.hpp"
#include "units/quantity.hpp"

namespace rollwright::trade {

using OrderId = Id<struct OrderTag>;    // "2041"
using PersonId = Id<struct PersonTag>;  // "mara"

/// States of an order, in the trade's words.
enum class OrderState {
  kEnquiry, kDraft, kOffer, kAgreed,
  kGathering, kKitted, kBuilding,   // built here
  kAtMaker, kUnderWay, kArrived, kFinishing,  // built by a maker
  kChecking, kReady,
  kBoxed, kOnTheRoad, kDelivered,  // leaves by freight; "Under way" and "Delivered" there
  kHandedOver, kInCare, kClosed, kCancelled,
};
[[nodiscard]] std::string_view word_of(OrderState state);
[[nodiscard]] std::optional<OrderState> state_named(std::string_view word);
/// Enquiry, Draft or Offer: such an order has a budget that is still open and may be followed up.
[[nodiscard]] bool is_before_agreed(OrderState state);
/// Agreed or later and not yet handed over: such orders need parts and hours.
[[nodiscard]] bool is_live(OrderState state);
/// Handed over, in care, closed or cancelled: nothing about the bike is open any more.
[[nodiscard]] bool is_over(OrderState state);
[[nodiscard]] const std::vector<OrderState>& all_states();

struct Rider {
  std::string name;
  std::string contact;
  std::optional<Length> height;
  std::optional<Length> inseam;
  std::optional<Mass> mass;
};

/// What the rider needs the bike to do, in numbers where rules ask for numbers.
struct Need {
  std::string words;      // in the customer's own words
  int use_class = 1;      // 1 paved ... 5 (EN 17406 grades)
  Mass luggage = {};      // bags and passengers carried at most
  bool child_seat = false;
  std::string region;     // "EU", "US": decides law
  std::string assist_class;  // "25 km/h", "class 3", "none"
  std::string front_brake_lever = "left";  // which side works the front brake
  std::string route;      // route's id, may be empty
  bool by_freight = false;
};

/// What a person said to a question of the trade (trade/question.hpp).
enum class Answer { kNotYet, kYes, kNo };
[[nodiscard]] std::string_view word_of(Answer answer);  // "not yet", "yes", "no"
[[nodiscard]] std::optional<Answer> answer_named(std::string_view word);

struct Answered {
  Answer answer = Answer::kNotYet;
  std::string who;
  Day day = {};
  std::string note;                // one line, may be empty
  std::map<SlotId, PartId> about;  // the parts it was said of; of others it says nothing
};

/// Why a flag was set, and until when it is meant to stay.
struct FlagSaid {
  std::string reason;
  std::optional<Day> until;
  std::string who;
  Day day = {};
};
/// "Held", "Change open", "Date at risk", "Stop-sale", "Claim open", "Money open".
[[nodiscard]] const std::vector<std::string>& all_flags();

struct Order {
  OrderId id;
  Rider rider;
  Need need;
  std::string build;  // template's id
  OrderState state = OrderState::kEnquiry;
  std::map<SlotId, PartId> choices;
  std::set<std::string> flags;     // "Held", "Change open", ...: never states
  std::map<std::string, FlagSaid> flags_said;  // of those in `flags` that were set here
  std::string held_because;
  std::optional<Day> needed_by;    // what the customer needs
  std::optional<Budget> budget;    // what the customer means to spend; none: nobody asked
  std::optional<FollowUp> follow_up;  // only before Agreed
  std::optional<Day> promised;     // what we said
  Day opened = {};
  Money deposit;
  std::set<std::string> done;      // operations that are done
  std::map<std::string, Answered> answers;  // by question
  int spec_version = 0;            // signed version
  std::int64_t revision = 0;       // grows with each write; a writer with an old one is refused
};

}  // namespace rollwright::trade
