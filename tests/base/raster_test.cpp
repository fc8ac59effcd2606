// The rectangle of values.
#include <catch2/catch.hpp>

#include "base/raster.h"

using namespace linefall;

TEST_CASE("a raster holds columns times rows values, row by row") {
    Raster<int> raster(3, 2, 7);
    CHECK(raster.columns() == 3);
    CHECK(raster.rows() == 2);
    CHECK(raster.size() == 6);
    CHECK_FALSE(raster.empty());
    for (const int value : raster.values()) CHECK(value == 7);
    raster.at(2, 1) = 5;
    raster.at(0, 1) = 4;
    CHECK(raster.values()[5] == 5);
    CHECK(raster.values()[3] == 4);
    REQUIRE(raster.row(1).size() == 3);
    CHECK(raster.row(1)[0] == 4);
    CHECK(raster.row(1)[2] == 5);
    raster.row(0)[1] = 9;
    const Raster<int>& view = raster;
    CHECK(view.at(1, 0) == 9);
    CHECK(view.row(0)[1] == 9);
}

TEST_CASE("rasters are equal when shape and values are") {
    Raster<int> a(3, 2, 1);
    Raster<int> b(3, 2, 1);
    CHECK(a == b);
    b.at(0, 0) = 2;
    CHECK_FALSE(a == b);
    CHECK_FALSE(a == Raster<int>(2, 3, 1));
    CHECK(Raster<int>{}.empty());
    CHECK(Raster<int>{}.size() == 0);
}
