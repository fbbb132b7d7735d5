#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What is asked and answered about facts that nobody knows yet.
namespace rollwright::shop {

/// A rule that asks for a fact.
struct AskingRule {
  std::string rule;      // "C-072"
  std::string severity;
  std::string asks;      // "head tube, upper seat of the frame and upper seat of the headset"
};
/// A fact that rules ask for and nobody knows: of a part, or of an order or its rider.
struct NotKnownFact {
  std::string part;       // empty: of the order or the rider
  std::string of;         // the part's name, "order 2041", "rider of order 2041"
  std::string attribute;
  std::string name;
  std::string help;       // how to measure it or where to read it
  std::string unit;       // that a bare number is taken in; empty for counts and words
  std::string type;       // flag, number, word, words
  std::vector<std::string> words;   // that it can be; empty: any
  std::string severity;             // of the worst rule
  std::vector<std::string> orders;  // open orders that it holds
  /// Orders still being specified that could be offered the part if this were known.
  std::vector<std::string> offers;
  int findings = 0;                 // rules it leaves open on them, counted bike by bike
  std::vector<AskingRule> rules;
  std::string who;        // who can find out, and how
};
struct NotKnownView {
  std::string sentence;
  std::vector<NotKnownFact> facts;  // that which holds most orders, then offers, first
};
/// A fact as a person gives it.
struct FactGiven {
  std::string value;      // "31.8 mm", "1.25 in", "yes", "IS|PM"
  std::string standing = "measured";  // or "known": read in a document
  std::string by;         // who measured, a person of the shop
  std::string source;     // what it was measured with; for a known fact the document
  std::optional<Day> day; // of measuring (empty: today) or of the document
};

}  // namespace rollwright::shop
