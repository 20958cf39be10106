// Bays that no bar crosses, against the faces of the same flat frame by the Boost Graph Library (Boyer and
// Myrvold's planarity test, and its face traversal of the frame as drawn).
#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <set>

#include "tests/rules/test_cage.h"

#ifdef HOOPWRIGHT_HAVE_BOOST_GRAPH
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/boyer_myrvold_planar_test.hpp>
#include <boost/graph/planar_face_traversal.hpp>
#endif

namespace hoopwright::test {
namespace {

constexpr double kCell_mm = 800, kHigh_mm = 600;

/// A flat lattice of `across` by `up` cells in the plane y = 0: level bars right across, posts between them,
/// and a diagonal (1 rising, 2 falling, 0 none) in each cell.
struct Lattice {
    int across = 1, up = 1;
    std::vector<int> diagonals;
    std::set<std::pair<int, int>> no_post;  ///< (column line, row) left out

    Vec3 at(int column, int row) const { return {kCell_mm * column, 0, 200 + kHigh_mm * row}; }
    int corner(int column, int row) const { return row * (across + 1) + column; }
};

MemberPoint onLevel(int row, double x) {
    Landing l;
    l.host = "level" + std::to_string(row);
    l.by = Landing::By::station_x;
    l.value = x;
    return {l, {}};
}

Job latticeJob(const Lattice& lattice) {
    Job job = smallJob();
    job.cage.plates.clear();
    job.cage.members.clear();
    for (int row = 0; row <= lattice.up; ++row)
        job.cage.members.push_back(straight("level" + std::to_string(row), "roof_bar", lattice.at(0, row),
                                            lattice.at(lattice.across, row)));
    const auto between = [&](const std::string& id, int row, double low_x, double high_x) {
        Member m = straight(id, "floor_bar", {}, {});
        m.path = {onLevel(row, low_x), onLevel(row + 1, high_x)};
        job.cage.members.push_back(m);
    };
    for (int row = 0; row < lattice.up; ++row) {
        for (int column = 0; column <= lattice.across; ++column) {
            if (lattice.no_post.contains({column, row})) continue;
            const double x = kCell_mm * column;
            between("post" + std::to_string(row) + "_" + std::to_string(column), row, x, x);
        }
        for (int column = 0; column < lattice.across; ++column) {
            const int way = lattice.diagonals[static_cast<std::size_t>(row * lattice.across + column)];
            const double left = kCell_mm * column, right = left + kCell_mm;
            if (way)
                between("diagonal" + std::to_string(row) + "_" + std::to_string(column), row,
                        way == 1 ? left : right, way == 1 ? right : left);
        }
    }
    return job;
}

std::size_t openBaysOf(const Lattice& lattice) {
    const Job job = latticeJob(lattice);
    const Finding f = finding(job, "measure: open_bay_count\nexactly: 0");
    return static_cast<std::size_t>(f.value.value_or(-1));
}

#ifdef HOOPWRIGHT_HAVE_BOOST_GRAPH
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS,
                                    boost::property<boost::vertex_index_t, int>,
                                    boost::property<boost::edge_index_t, int>>;
using Edge = boost::graph_traits<Graph>::edge_descriptor;

struct Faces : boost::planar_face_traversal_visitor {
    std::vector<std::vector<int>>* all;
    std::vector<int> now;
    void begin_face() { now.clear(); }
    template <class V>
    void next_vertex(V v) {
        now.push_back(static_cast<int>(v));
    }
    void end_face() { all->push_back(now); }
};

/// Faces with four corners or more where they turn; the outside is the one that runs the other way round.
std::size_t openFaces(const Lattice& lattice) {
    Graph graph(static_cast<std::size_t>((lattice.across + 1) * (lattice.up + 1)));
    int count = 0;
    const auto join = [&](int a, int b) {
        boost::add_edge(static_cast<std::size_t>(a), static_cast<std::size_t>(b), count++, graph);
    };
    for (int row = 0; row <= lattice.up; ++row)
        for (int column = 0; column < lattice.across; ++column)
            join(lattice.corner(column, row), lattice.corner(column + 1, row));
    for (int row = 0; row < lattice.up; ++row) {
        for (int column = 0; column <= lattice.across; ++column)
            if (!lattice.no_post.contains({column, row}))
                join(lattice.corner(column, row), lattice.corner(column, row + 1));
        for (int column = 0; column < lattice.across; ++column) {
            const int way = lattice.diagonals[static_cast<std::size_t>(row * lattice.across + column)];
            if (way == 1) join(lattice.corner(column, row), lattice.corner(column + 1, row + 1));
            if (way == 2) join(lattice.corner(column + 1, row), lattice.corner(column, row + 1));
        }
    }
    EXPECT_TRUE(boost::boyer_myrvold_planarity_test(graph));
    // As it is drawn, sides in order round each corner: another way of laying the same graph flat has other
    // faces.
    std::vector<std::vector<Edge>> embedding(boost::num_vertices(graph));
    const auto place = [&](std::size_t vertex) {
        const int c = static_cast<int>(vertex);
        return lattice.at(c % (lattice.across + 1), c / (lattice.across + 1));
    };
    for (std::size_t v = 0; v < boost::num_vertices(graph); ++v) {
        const auto [from, to] = boost::out_edges(v, graph);
        embedding[v].assign(from, to);
        std::sort(embedding[v].begin(), embedding[v].end(), [&](const Edge& one, const Edge& other) {
            const auto turn = [&](const Edge& edge) {
                const Vec3 d = place(boost::target(edge, graph)) - place(v);
                return std::atan2(d.z(), d.x());
            };
            return turn(one) < turn(other);
        });
    }
    std::vector<std::vector<int>> all;
    Faces visitor;
    visitor.all = &all;
    boost::planar_face_traversal(graph, embedding.data(), visitor);
    // Every side is of two faces.
    std::size_t sides = 0;
    for (const auto& face : all) sides += face.size();
    EXPECT_EQ(sides, 2 * boost::num_edges(graph));
    std::size_t open = 0, outside = 0;
    double most = 0;
    std::vector<std::pair<double, int>> found;  // area, corners that turn
    for (const auto& face : all) {
        double area = 0;
        int turns = 0;
        const std::size_t n = face.size();
        const auto at = [&](std::size_t i) {
            const int c = face[i % n];
            return lattice.at(c % (lattice.across + 1), c / (lattice.across + 1));
        };
        for (std::size_t i = 0; i < n; ++i) {
            area += 0.5 * (at(i).x() * at(i + 1).z() - at(i + 1).x() * at(i).z());
            const Vec3 in = at(i + 1) - at(i), out = at(i + 2) - at(i + 1);
            turns += std::atan2(in.cross(out).norm(), in.dot(out)) > 0.3;
        }
        found.emplace_back(std::abs(area), turns);
        most = std::max(most, std::abs(area));
    }
    // The outside has the area of all the others together; a lone cell's is its own, and one of the two
    // counts.
    for (const auto& [area, turns] : found) {
        if (outside == 0 && area == most) {
            ++outside;
            continue;
        }
        open += turns >= 4;
    }
    return open;
}

TEST(PlanarFaces, OfLatticesWithAnyDiagonals) {
    std::mt19937 random(20261126);
    int with_open = 0;
    for (int round = 0; round < 40; ++round) {
        Lattice lattice;
        lattice.across = 1 + static_cast<int>(random() % 4);
        lattice.up = 1 + static_cast<int>(random() % 3);
        for (int i = 0; i < lattice.across * lattice.up; ++i)
            lattice.diagonals.push_back(static_cast<int>(random() % 3));
        const std::size_t open = openBaysOf(lattice);
        EXPECT_EQ(open, openFaces(lattice)) << "round " << round;
        with_open += open > 0;
    }
    EXPECT_GE(with_open, 15) << "else it shows little";
}

TEST(PlanarFaces, OfTwoCellsMadeOne) {
    Lattice lattice;
    lattice.across = 4;
    lattice.up = 1;
    lattice.diagonals = {1, 0, 0, 2};
    lattice.no_post = {{2, 0}};
    EXPECT_EQ(openFaces(lattice), 1u);
    EXPECT_EQ(openBaysOf(lattice), 1u);
}
#endif

// Known without any library: as many as cells without a diagonal.
TEST(PlanarFaces, AreCellsWithoutADiagonal) {
    for (int open = 0; open <= 3; ++open) {
        Lattice lattice;
        lattice.across = 3;
        lattice.diagonals = {1, 1, 1};
        for (int i = 0; i < open; ++i) lattice.diagonals[static_cast<std::size_t>(i)] = 0;
        EXPECT_EQ(openBaysOf(lattice), static_cast<std::size_t>(open));
    }
}

}  // namespace
}  // namespace hoopwright::test
