#include "3_beats/ecg/template_bank.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Unit vectors in a plane, so that the correlation of two is the cosine between them.
std::vector<float> at_degrees(double degrees) {
  const double angle = degrees * 3.14159265358979 / 180.0;
  return {static_cast<float>(std::cos(angle)), static_cast<float>(std::sin(angle))};
}
float likeness(const Templates& templates, double degrees) {
  std::vector<float> shape = at_degrees(degrees);
  shape.resize(4);  // room for the shape begun later
  return templates.largest_products<1>(shape.data())[0];
}

constexpr TemplateChoice all{.most = 8, .fewest_members = 1, .smallest_share = 0.0};

TEST(TemplateBank, AShapeJoinsTheTemplateThatItIsMostLikeAndMovesItByItsShare) {
  TemplateBank bank{2, 0.9F};  // within 25.8 degrees
  bank.add(at_degrees(0));
  bank.add(at_degrees(20));  // the mean of both, at unit length, points to 10 degrees
  const Templates templates = bank.chosen(all);
  EXPECT_NEAR(likeness(templates, 10), 1.0, 1e-6);
  EXPECT_NEAR(likeness(templates, 70), 0.5, 1e-6);
  EXPECT_EQ(likeness(templates, 180 + 10), 0.0F);  // nothing counts below 0
}

TEST(TemplateBank, AnUnlikeShapeFoundsATemplateOfItsOwn) {
  TemplateBank bank{2, 0.9F};
  bank.add(at_degrees(0));
  bank.add(at_degrees(90));
  const Templates templates = bank.chosen(all);
  EXPECT_NEAR(likeness(templates, 0), 1.0, 1e-6);
  EXPECT_NEAR(likeness(templates, 90), 1.0, 1e-6);
  EXPECT_NEAR(likeness(templates, 45), std::sqrt(0.5), 1e-6);
}

TEST(TemplateBank, ChoosesTheFrequentOnesAndNeverNone) {
  TemplateBank bank{2, 0.9F};
  for (int k = 0; k < 5; ++k) bank.add(at_degrees(0));
  for (int k = 0; k < 3; ++k) bank.add(at_degrees(90));
  bank.add(at_degrees(180));
  EXPECT_NEAR(likeness(bank.chosen({.most = 8, .fewest_members = 2, .smallest_share = 0.0}), 180), 0.0, 1e-6);
  EXPECT_NEAR(likeness(bank.chosen({.most = 8, .fewest_members = 1, .smallest_share = 0.0}), 180), 1.0, 1e-6);
  EXPECT_NEAR(likeness(bank.chosen({.most = 1, .fewest_members = 1, .smallest_share = 0.0}), 90), 0.0, 1e-6);
  EXPECT_NEAR(likeness(bank.chosen({.most = 8, .fewest_members = 1, .smallest_share = 0.5}), 90), 0.0, 1e-6);
  // None has ten members: the most frequent one all the same.
  EXPECT_NEAR(likeness(bank.chosen({.most = 8, .fewest_members = 10, .smallest_share = 0.0}), 0), 1.0, 1e-6);
}

TEST(TemplateBank, AFullBankGivesUpItsRarestTemplate) {
  constexpr std::size_t size = 25;
  TemplateBank bank{size, 0.9F};
  const auto axis = [&](std::size_t k) {
    std::vector<float> shape(size);
    shape[k] = 1.0F;
    return shape;
  };
  for (std::size_t k = 0; k < 24; ++k) {
    bank.add(axis(k));
    if (k != 5) bank.add(axis(k));
  }
  bank.add(axis(24));
  const Templates templates = bank.chosen({.most = 24, .fewest_members = 1, .smallest_share = 0.0});
  EXPECT_EQ(templates.largest_products<1>(axis(5).data())[0], 0.0F);
  EXPECT_EQ(templates.largest_products<1>(axis(24).data())[0], 1.0F);
  EXPECT_EQ(templates.largest_products<1>(axis(23).data())[0], 1.0F);
}

TEST(Templates, AreComparedWithASeriesBegunLaterAndLater) {
  Templates templates{1, 2};
  templates.set(0, 0, 1.0F);
  templates.set(0, 1, 2.0F);
  const std::vector<float> series{1, 2, 3, -9};
  const auto products = templates.largest_products<3>(series.data());
  EXPECT_EQ(products[0], 5.0F);  // 1 * 1 + 2 * 2
  EXPECT_EQ(products[1], 8.0F);  // 1 * 2 + 2 * 3
  EXPECT_EQ(products[2], 0.0F);  // 1 * 3 - 2 * 9, below 0
}

}  // namespace
}  // namespace pulsewright::beats_stage
