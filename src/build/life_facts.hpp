#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/order.hpp"
#include "units/money.hpp"

namespace rollwright::build {

/// What a person is when moving an order: permissions belong to the hat, the signature to the person.
enum class Hat { kOwner, kAdviser, kBuyer, kGoodsIn, kLead, kMechanic, kSecondPerson, kPacker };
[[nodiscard]] std::string_view word_of(Hat hat);  // "owner", "second person"

/// Everything that decides whether an order may be moved, as plain values. A list names what is
/// open: empty says that nothing is. Nothing here is worked out; whoever fills it says what is so.
struct LifeFacts {
  trade::OrderState state = trade::OrderState::kEnquiry;
  bool maker_built = false;
  bool by_freight = false;
  bool electric = false;            // has a motor: battery, software and region count
  std::set<std::string> flags;
  std::string held_because;
  Day today = {};

  // Who moves it
  std::string by;                   // name; empty: nobody is named
  std::set<Hat> hats;
  std::set<std::string> worked_on_it;  // names: did work that another person has to sign

  // Rider and need
  bool has_contact = false;         // name, and how to reach them
  bool has_use = false;             // in the customer's words
  std::vector<std::string> measures_not_known;  // "height", "inseam", "mass"
  std::optional<Day> needed_by;
  bool budget_written = false;      // on the order, be it that nothing was said

  // Specification and price
  std::vector<std::string> empty_slots;         // names of required slots
  std::vector<std::string> does_not_fit;        // sentences of the rules
  std::vector<std::string> stops_not_known;     // sentences: of severity STOP
  std::vector<std::string> fit_not_known;       // sentences: of severity STOP or FIT
  std::vector<std::string> not_known_unowned;   // what nobody was asked to find out
  std::vector<std::string> costs_not_dated;     // parts without a supplier's dated price
  int signed_version = 0;                       // newest signed; 0: none
  std::vector<std::string> changed_since_signed;  // line by line
  Money price;
  Money deposit;
  std::optional<Day> promised;
  std::optional<Day> offer_valid_until;

  // Parts
  std::vector<std::string> not_bought;          // neither in hand nor on a line that was placed
  std::vector<std::string> kit_not_put_by;      // of the first stage of building
  std::vector<std::string> lines_open;          // purchase lines for this order that are not over

  // The maker of a whole bike
  int form_version = 0;                         // of the newest order form that was sent; 0: none
  bool has_maker_list = false;                  // confirmed or as built
  bool has_as_built = false;
  std::vector<std::string> differences_open;    // of the newest list: nobody answered
  std::vector<std::string> differences_denied;  // the maker has to put them right
  std::vector<std::string> numbers_otherwise;   // read here, and not as the list as built states

  // Bench
  bool work_planned = false;                    // a stand and a qualified person, by the agreed plan
  std::vector<std::string> work_open;           // operations before the checks
  std::vector<std::string> checks_open;         // operations of checking
  std::vector<std::string> readings_missing;
  std::vector<std::string> readings_outside;
  std::vector<std::string> redo_open;           // and faults that are not mended
  std::vector<std::string> stops_open;          // sentences: what nobody may wave through
  std::vector<std::string> values_not_known;    // facts without which the sheet has no value
  bool test_ride_done = false;
  std::vector<std::string> arrival_lines_open;  // check lines
  std::vector<std::string> final_lines_open;
  std::vector<std::string> stop_lines_open;
  std::vector<std::string> talk_lines_open;
  std::set<std::string> operations_done;        // ids
  std::vector<std::string> serials_missing;     // parts that carry a number which nobody wrote down

  // In care
  std::string visit_open;                       // what the bike is here for; empty: it is not here

  // End
  std::optional<Money> settlement;              // to be paid back on cancelling, as computed

  /// What is said with the move, by the keys of `statements` (order_life.hpp).
  std::map<std::string, std::string> said;
};

}  // namespace rollwright::build
