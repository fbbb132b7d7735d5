#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// The plan as the use cases answer it, ready to be shown. The JSON has the same names
/// (web/openapi.yaml).
namespace rollwright::shop {

/// Local time of the shop, "2026-11-25T08:30".
struct WindowView {
  std::string from;
  std::string to;
};
/// A stretch of work between two breaks; `start` and `end` are those of the whole operation.
struct BarView {
  std::string order;
  std::string rider;
  std::string operation;
  std::string name;
  std::string area;
  int stand = 0;        // of the area, from 1; 0: more than one on the way
  std::string from;
  std::string to;
  std::string start;
  std::string end;
  int unattended_minutes = 0;  // by the wall clock, after `end`: glue sets, a battery charges
  bool frozen = false;  // it does not move
  bool pinned = false;  // put there by hand
  std::string pinned_by;  // by whom; empty when nobody did, or it is not agreed yet
  bool late = false;    // its order breaks its promise in this plan
  std::string cannot;   // why it cannot be done as agreed; empty when it can
  bool lends = false;   // somebody else does it; this person lends a hand
  std::vector<std::string> others;  // names of those at it at once; who does it first
};
struct PersonPlan {
  std::string id;
  std::string name;
  std::vector<std::string> skills;
  std::vector<WindowView> windows;
  std::vector<BarView> bars;
};
struct AreaPlan {
  std::string id;
  int stands = 1;
};
struct ArrivalView {
  Day day = {};
  std::string what;
  std::vector<std::string> orders;
  bool confirmed = false;
};
struct PlannedOrder {
  std::string order;
  std::string rider;
  std::optional<Day> promised;
  std::optional<Day> ready;   // empty: beyond the horizon
  bool late = false;
  std::string bound_by;       // in words
};
/// Something that happened since the plan was agreed and that it does not reckon with.
struct OutOfDate {
  std::string sentence;
  std::vector<std::string> orders;
  int operations = 0;  // that cannot stay as agreed, or are not in it
};
struct PlanSettingsView {
  int frozen_days = 0;
  double day_late = 0;
  double moved = 0;
  double kit_day = 0;
  double last_day = 0;
  double uneven_hour = 0;
};
struct PlanView {
  std::string sentence;
  std::int64_t number = 0;             // of the agreed plan; 0: none is agreed, this one is new
  std::optional<std::string> agreed;   // local time
  std::string agreed_by;
  std::string standing;                // in words: agreed when, by whom, still true or not
  std::vector<OutOfDate> out_of_date;
  Day first_day = {};
  int days = 0;
  std::string now;
  std::string frozen_until;
  std::vector<PersonPlan> people;
  std::vector<AreaPlan> areas;
  std::vector<ArrivalView> arrivals;
  std::vector<PlannedOrder> orders;
  PlanSettingsView settings;
};

/// What a person asks for: a new plan, or the agreed one with one operation moved or let go.
struct ProposalWish {
  std::string order;      // empty: plan anew
  std::string operation;
  bool unpin = false;     // let the plan decide again; what follows is then empty
  std::string person;
  std::string start;      // local time
  int stand = 0;          // of the operation's area; 0: any
};

/// An operation with another person or day than agreed, or moved by hand.
struct ChangeOfWork {
  std::string order;
  std::string rider;
  std::string operation;
  std::string name;
  std::string from_person;            // empty: it was not planned
  std::optional<std::string> from;    // its start
  std::string to_person;              // empty: it finds no room
  std::optional<std::string> to;
  std::vector<std::string> because;   // the event first
};
/// An operation with the person and day agreed, at which others lend a hand.
struct ChangeOfHands {
  std::string order;
  std::string rider;
  std::string operation;
  std::string name;
  std::string person;
  std::string start;
  std::vector<std::string> from;  // names of those who were to; empty: nobody
  std::vector<std::string> to;
};
/// An order whose day or odds are others than with the agreed plan, or whose promise is at risk.
struct ChangeOfDay {
  std::string order;
  std::string rider;
  std::optional<Day> promised;
  std::optional<Day> ready_before;  // as things stand; empty: not within the horizon
  std::optional<Day> ready_after;
  std::optional<double> kept_before;  // odds that the promise is kept; empty: not drawn
  std::optional<double> kept_after;
  bool was_at_risk = false;           // ready on the last day or later, as things stand
  bool at_risk = false;               // the same with the proposal
  std::string held_by;                // in words
};
/// What the plans are judged by, as it was and as it would be.
struct Figures {
  double days_late = 0;
  int moved = 0;
  double kit_days = 0;
  double last_days = 0;
  double uneven_hours = 0;
  double cost = 0;
};
struct ProposalView {
  std::string id;
  std::int64_t over = 0;    // the plan it was made over
  std::string sentence;
  bool improving = false;
  std::vector<ChangeOfWork> changes;
  std::vector<ChangeOfHands> hands;
  int same_day = 0;         // operations that keep person and day, at another hour
  std::vector<ChangeOfDay> orders;
  std::vector<OutOfDate> reasons;
  Figures before;           // the agreed plan, mended where it must be
  Figures after;
  double seconds = 0;       // spent searching
  std::int64_t placements = 0;
  PlanView plan;            // as it would be
};
/// Told now and then while a proposal is being improved.
struct ImproveProgress {
  std::string proposal;
  double seconds = 0;
  double of_seconds = 0;
  double cost = 0;
  double first_cost = 0;
  double days_late = 0;
  int moved = 0;
  bool over = false;
};

}  // namespace rollwright::shop
