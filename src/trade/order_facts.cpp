#include "trade/order_facts.hpp"

#include "trade/pseudo.hpp"

namespace rollwright::trade {

namespace {

void state(Part& part, const std::string& attribute, Value value) {
  part.facts[attribute] = {.standing = Standing::kKnown, .value = std::move(value),
                           .source = "order"};
}

/// A word that was left empty has not been asked yet.
void state_word(Part& part, const std::string& attribute, const std::string& word) {
  if (!word.empty()) state(part, attribute, word);
}

}  // namespace

Part order_facts(const Order& order, const std::optional<RideFacts>& ride) {
  Part facts{.kind = order_kind(), .name = "order"};
  state_word(facts, "region", order.need.region);
  state_word(facts, "assist_class", order.need.assist_class);
  state_word(facts, "front_brake_lever", order.need.front_brake_lever);
  state(facts, "use_class", static_cast<double>(order.need.use_class));
  state(facts, "luggage", order.need.luggage.in(kg));
  state(facts, "child_seat", order.need.child_seat);
  state(facts, "by_freight", order.need.by_freight);
  state(facts, "ride_given", !order.need.route.empty());
  if (ride) {
    state(facts, "ride_length", ride->length.in(mm));
    state(facts, "ride_climb", ride->climb.in(mm));
    state(facts, "ride_steepest", ride->steepest * 100);
  }
  if (order.rider.mass) {
    state(facts, "load", (*order.rider.mass + order.need.luggage).in(kg));
  }
  return facts;
}

Part rider_facts(const Order& order) {
  Part facts{.kind = rider_kind(), .name = "rider"};
  if (order.rider.mass) state(facts, "rider_mass", order.rider.mass->in(kg));
  if (order.rider.height) state(facts, "rider_height", order.rider.height->in(mm));
  if (order.rider.inseam) state(facts, "rider_inseam", order.rider.inseam->in(mm));
  return facts;
}

}  // namespace rollwright::trade
