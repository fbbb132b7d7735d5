#include "shop/people_desk.hpp"

#include <filesystem>

#include <gtest/gtest.h>
#include <unistd.h>

#include "shop/demo_shop.hpp"
#include "shop/fit_secrets.hpp"
#include "shop/plan_desk.hpp"
#include "shop/secret_hash.hpp"

// The demo and every password here are invented.
namespace rollwright::shop {
namespace {

constexpr const char* kPassword = "seven quiet freewheels";
const trade::PersonId kMara("mara");
const trade::PersonId kJonas("jonas");

OwnerGiven mara() { return {.person = "mara", .name = {}, .password = kPassword}; }

TEST(SecretHash, IsThatOfItsWordsAndOfNoOthersAndSaltedEachTime) {
  const std::string hash = hash_of_secret(kPassword).value();
  EXPECT_TRUE(hash.starts_with("$argon2id$v=19$m=65536,t=3,p=1$")) << hash;
  EXPECT_TRUE(is_secret_of(hash, kPassword));
  EXPECT_FALSE(is_secret_of(hash, "seven quiet freewheel"));
  EXPECT_FALSE(is_secret_of(hash, ""));
  EXPECT_FALSE(is_secret_of("", kPassword)) << "nobody's";
  EXPECT_FALSE(is_secret_of("not a hash", kPassword));
  EXPECT_NE(hash_of_secret(kPassword).value(), hash);
}

TEST(FitSecrets, TakesWordsAndDigitsThatAreNotGuessedAtOnce) {
  for (const char* good : {kPassword, "ZwölfÄpfel", "correct horse", "ten spokes", "4821 9913 07"}) {
    EXPECT_TRUE(fit_password(good, "mara", "Mara Hollis")) << good;
  }
  for (const char* bad : {"", "nine char", "aaaaaaaaaaaaaa", "password123", "Passwort!!", "1234567890",
                          "mara mara mara", "Mara Hollis 12"}) {
    const auto fit = fit_password(bad, "mara", "Mara Hollis");
    ASSERT_FALSE(fit) << bad;
    EXPECT_EQ(fit.error().place.field, "password");
    EXPECT_TRUE(fit.error().place.value.empty()) << "a refusal does not repeat it";
  }
  EXPECT_FALSE(fit_password(std::string(201, 'x') + "y", "mara", "Mara"));
  for (const char* good : {"2580", "73915", "12345679"}) EXPECT_TRUE(fit_pin(good)) << good;
  for (const char* bad : {"", "123", "1234", "4321", "7890", "0000", "123456789", "12a4", "-123"}) {
    EXPECT_FALSE(fit_pin(bad)) << bad;
  }
}

TEST(PeopleDesk, IsOpenUntilTheOwnerIsMadeAndNeverAgain) {
  const auto shop = demo();
  PeopleDesk& desk = shop->people_desk();
  EXPECT_TRUE(desk.is_open().value());
  EXPECT_EQ(desk.set_password(kMara, kPassword, "desk").error().code, Code::kRefused);
  EXPECT_EQ(desk.set_pin(kJonas, "2580", "desk").error().code, Code::kRefused);
  ASSERT_TRUE(desk.make_owner(mara(), "", true));
  EXPECT_FALSE(desk.is_open().value());
  EXPECT_EQ(desk.make_owner(mara(), "", true).error().code, Code::kRefused);
  EXPECT_EQ(desk.take_away(kMara, "mara").error().code, Code::kRefused) << "the last owner";
  EXPECT_TRUE(desk.make_owner({.person = "pia", .name = {}, .password = "no two spokes alike"},
                              "command line", false));
  EXPECT_TRUE(desk.take_away(kMara, "pia")) << "there is another by now";
  EXPECT_EQ(desk.person(trade::PersonId("pia")).value().roles.front(), "owner");
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(PeopleDesk, KnowsWhoseWordsTheyAre) {
  const auto shop = demo();
  PeopleDesk& desk = shop->people_desk();
  ASSERT_TRUE(desk.make_owner(mara(), "", true));
  ASSERT_TRUE(desk.set_pin(kJonas, "2580", "mara"));
  EXPECT_TRUE(desk.proves(kMara, Proof::kPassword, kPassword).value());
  EXPECT_FALSE(desk.proves(kMara, Proof::kPassword, "another password").value());
  EXPECT_FALSE(desk.proves(kMara, Proof::kPin, kPassword).value()) << "she has no PIN";
  EXPECT_TRUE(desk.proves(kJonas, Proof::kPin, "2580").value());
  EXPECT_FALSE(desk.proves(kJonas, Proof::kPassword, "2580").value());
  EXPECT_FALSE(desk.proves(trade::PersonId("nobody"), Proof::kPassword, kPassword).value());
}

TEST(PeopleDesk, MakesSomebodyNewWithAnIdOfTheirOwn) {
  const auto shop = demo();
  PeopleDesk& desk = shop->people_desk();
  EXPECT_EQ(desk.make_owner({.person = {}, .name = "Mara Hollis", .password = kPassword}, "", true)
                .error()
                .code,
            Code::kConflict);
  EXPECT_EQ(desk.make_owner({.person = {}, .name = "  ", .password = kPassword}, "", true)
                .error()
                .place.field,
            "name");
  const auto made =
      desk.make_owner({.person = {}, .name = " Jonas ", .password = kPassword}, "", true);
  ASSERT_TRUE(made) << made.error().full();
  EXPECT_EQ(made->id, "jonas-2") << "jonas is somebody else";
  EXPECT_EQ(made->name, "Jonas");
  EXPECT_EQ(desk.typed(" JONAS-2 ").value().text, "jonas-2");
  EXPECT_EQ(desk.typed("nobody").value().text, "nobody");
  EXPECT_TRUE(shop->plan_desk().plan()) << "somebody without hours is no trouble to the plan";
}

TEST(PeopleDesk, SeesWhatAnotherProgramSet) {
  const std::string path =
      std::filesystem::temp_directory_path() / ("rollwright-people-" + std::to_string(::getpid()));
  const auto remove_all = [&path] {
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
  };
  remove_all();
  {
    const auto server = demo(path);
    ASSERT_TRUE(server->people_desk().is_open().value());
    const auto other = open_demo(path, false);
    ASSERT_TRUE(other->people_desk().make_owner(mara(), "command line", false));
    EXPECT_FALSE(server->people_desk().is_open().value());
    EXPECT_TRUE(server->people_desk().proves(kMara, Proof::kPassword, kPassword).value());
  }
  remove_all();
}

}  // namespace
}  // namespace rollwright::shop
