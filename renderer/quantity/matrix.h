// Three by three, rows first: colour spaces and small linear systems.
#pragma once

#include <array>
#include <cstddef>

namespace rushlight {

using Triple = std::array<double, 3>;
using Matrix = std::array<Triple, 3>;

constexpr Triple operator*(const Matrix& m, const Triple& t) {
    Triple out{};
    for (std::size_t i = 0; i < 3; ++i) out[i] = m[i][0] * t[0] + m[i][1] * t[1] + m[i][2] * t[2];
    return out;
}

constexpr Matrix operator*(const Matrix& a, const Matrix& b) {
    Matrix c{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            for (std::size_t k = 0; k < 3; ++k) c[i][j] += a[i][k] * b[k][j];
    return c;
}

/// By cofactors; a singular matrix gives infinities.
constexpr Matrix inverse(const Matrix& m) {
    Matrix n{};
    double determinant = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t i1 = (i + 1) % 3, i2 = (i + 2) % 3;
        for (std::size_t j = 0; j < 3; ++j) {
            const std::size_t j1 = (j + 1) % 3, j2 = (j + 2) % 3;
            n[j][i] = m[i1][j1] * m[i2][j2] - m[i1][j2] * m[i2][j1];
        }
    }
    for (std::size_t j = 0; j < 3; ++j) determinant += m[0][j] * n[j][0];
    for (Triple& row : n)
        for (double& value : row) value /= determinant;
    return n;
}

}  // namespace rushlight
