#pragma once

#include <string>
#include <vector>

namespace rollwright::shop {

/// One person of the shop as the owner sees who may do what.
struct PersonSignIn {
  std::string id;  // what the person signs in with
  std::string name;
  std::vector<std::string> roles;
  bool has_password = false;
  bool has_pin = false;
};

/// Who may sign in at a station.
struct StationPerson {
  std::string id;
  std::string name;
  std::string code;  // what a scanner types from the person's label
};

/// A tablet at the bench that takes PINs.
struct StationView {
  std::string number;
  std::string name;
  std::string paired_by;
};

struct PeopleView {
  bool open = true;  // nobody has to sign in yet
  std::vector<PersonSignIn> people;
  std::vector<StationView> stations;
};

/// Who asks, for the page that asks.
struct MeView {
  bool open = true;
  std::string person;  // empty: nobody is signed in
  std::string name;
  std::vector<std::string> roles;  // what this session may, not what the person might
  std::string at;                  // "desk", "bench"; empty: nobody is signed in
  std::string station;             // name of the station that this device is; empty: none
};

}  // namespace rollwright::shop
