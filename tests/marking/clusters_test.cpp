// Wrong values whose cause is known, and what the clusters make of them.
#include <catch2/catch.hpp>

#include <algorithm>

#include "marking/clusters.h"

namespace linefall {

namespace {

const Cluster* find(const std::vector<Cluster>& clusters, const std::string& words) {
    const auto at = std::find_if(clusters.begin(), clusters.end(), [&](const Cluster& c) { return c.cause.find(words) != std::string::npos; });
    return at == clusters.end() ? nullptr : &*at;
}

WrongValue wrong(double value, double truth, int variant = 1) { return {value, truth, 0.02 * truth, variant, "m", "other", {}}; }

}  // namespace

TEST_CASE("a factor of the truth suggests what was forgotten") {
    CHECK(factorOf(104.0, 52.0, 1.0).find("twice") == 0);
    CHECK(factorOf(26.1, 52.0, 1.0).find("half") == 0);
    CHECK(factorOf(520.0, 52.0, 1.0).find("ten times") == 0);
    CHECK(factorOf(0.6 * 57.29578, 0.6, 0.01).find("57.3") == 0);
    CHECK(factorOf(0.6 / 57.29578, 0.6, 0.01).find("1/57.3") == 0);
    CHECK(factorOf(72.0, 20.0, 0.5).find("3.6 times") == 0);
    CHECK(factorOf(65.6, 20.0, 0.5).find("3.28 times") == 0);
    CHECK(factorOf(-52.0, 52.0, 1.0) == "the sign is turned");
    CHECK(factorOf(0.25, 4.0, 0.1).find("reciprocal") != std::string::npos);
    CHECK(factorOf(1.2 * 52.0, 52.0, 1.0).empty());
    CHECK(factorOf(5.0, 0.0, 1.0).empty());
    CHECK(factorOf(0.0, 5.0, 1.0).empty());
    CHECK(factorOf(1e307, 1e-308, 1.0).empty());
    CHECK(factorOf(52.0 * 2.2, 52.0, 52.0).empty());  // a tolerance as large as the truth explains no more than 5 %
}

TEST_CASE("values cluster by rule, by a named mistake nearby, by factor, by ratio and by variant") {
    std::vector<WrongValue> values;
    for (int i = 0; i < 5; ++i) values.push_back({30.0, 52.0, 1.0, i, "m", "wrong zenith for elevation", {}});
    for (int i = 0; i < 2; ++i) values.push_back({33.0, 52.0, 1.5, i, "m", "other", {{"zenith for elevation", 30.0}}});
    for (int i = 0; i < 4; ++i) values.push_back(wrong(2.0 * (40.0 + i), 40.0 + i, i));
    for (int i = 0; i < 3; ++i) values.push_back(wrong(1.3 * (40.0 + i), 40.0 + i, i));           // the same unknown mistake in three variants
    for (const double v : {17.0, 17.1, 17.2}) values.push_back({v, 0.0, 0.5, 9, "m", "other", {}});  // a truth of 0 has no ratio
    values.push_back(wrong(1000.0, 7.0));                                                           // alone
    const std::vector<Cluster> clusters = clustersOf(values);
    REQUIRE(clusters.size() == 5);
    CHECK(clusters[0].cause == "zenith for elevation");
    CHECK(clusters[0].count == 5);
    REQUIRE(find(clusters, "twice") != nullptr);
    CHECK(find(clusters, "twice")->count == 4);
    CHECK(find(clusters, "twice")->low == Approx(2.0));
    CHECK(find(clusters, "near the named mistake: zenith")->count == 2);
    CHECK(find(clusters, "1.3 times the truth")->count == 3);
    CHECK_FALSE(find(clusters, "1.3 times the truth")->known);
    REQUIRE(find(clusters, "17.1 m in variant 9") != nullptr);
    CHECK(find(clusters, "17.1 m in variant 9")->count == 3);
}

TEST_CASE("a few values that lie together among very many are no cluster") {
    std::vector<WrongValue> values;
    for (int i = 0; i < 200; ++i) values.push_back(wrong(50.0 * (1.2 + 0.03 * i), 50.0));  // 3 % apart at first, less than 2 % soon
    for (int i = 0; i < 3; ++i) values.push_back(wrong(7.0, 50.0));
    CHECK(find(clustersOf(values), "0.14 times") == nullptr);
    CHECK(find(clustersOf({values.end() - 3, values.end()}), "0.14 times") != nullptr);
}

TEST_CASE("two values alike are no cluster, and values without an end join none") {
    CHECK(clustersOf({wrong(65.0, 50.0), wrong(65.1, 50.0)}).empty());
    CHECK(clustersOf({wrong(1.0 / 0.0, 50.0), wrong(1.0 / 0.0, 50.0), wrong(1.0 / 0.0, 50.0)}).empty());
    CHECK(clustersOf({}).empty());
}

}  // namespace linefall
