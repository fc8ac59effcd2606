#pragma once
// A rectangle of values, stored row by row.

#include <cassert>
#include <cstddef>
#include <span>
#include <vector>

namespace linefall {

/// `columns` x `rows` values of T; `at(column, row)`; no meaning is given to the axes here.
template <class T>
class Raster {
public:
    Raster() = default;
    Raster(int columns, int rows, T fill = T{})
        : columns_(columns), rows_(rows),
          values_(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), fill) {}

    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int rows() const { return rows_; }
    [[nodiscard]] bool empty() const { return values_.empty(); }
    [[nodiscard]] std::size_t size() const { return values_.size(); }

    [[nodiscard]] T& at(int column, int row) { return values_[index(column, row)]; }
    [[nodiscard]] const T& at(int column, int row) const { return values_[index(column, row)]; }

    [[nodiscard]] std::span<T> row(int row) { return {values_.data() + index(0, row), static_cast<std::size_t>(columns_)}; }
    [[nodiscard]] std::span<const T> row(int row) const {
        return {values_.data() + index(0, row), static_cast<std::size_t>(columns_)};
    }
    [[nodiscard]] std::span<T> values() { return values_; }
    [[nodiscard]] std::span<const T> values() const { return values_; }

    friend bool operator==(const Raster&, const Raster&) = default;

private:
    [[nodiscard]] std::size_t index(int column, int row) const {
        assert(column >= 0 && column < columns_ && row >= 0 && row < rows_);
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
    }

    int columns_ = 0;
    int rows_ = 0;
    std::vector<T> values_;
};

}  // namespace linefall
