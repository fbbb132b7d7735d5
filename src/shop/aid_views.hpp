#pragma once

#include <string>
#include <vector>

/// What an order's parts, rider and route put into the fields of a bench aid.
namespace rollwright::shop {

struct AidFieldView {
  std::string key;
  std::string value;   // as a person types it; of the route its name
  std::string origin;  // "crankset (Arms 170 mm): crank arm length"
};
struct AidQuestionView {
  std::string key;
  std::string sentence;
};
struct AidFieldsView {
  std::string order;
  std::string aid;
  std::string end;
  std::vector<std::string> ends;
  std::string not_here;  // why the aid has nothing to say of this bike
  std::vector<AidFieldView> fields;
  std::vector<AidQuestionView> questions;
  std::string file;  // the route's content, where the aid takes one
};

}  // namespace rollwright::shop
