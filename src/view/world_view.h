#pragma once
// Draws the world into a canvas: sky, sea, terrain under its drape, the things on it. Draws again only on change.

#include <memory>
#include <optional>
#include <string>

#include "view/camera.h"
#include "view/drape.h"
#include "view/shader.h"
#include "view/texture.h"

namespace linefall {

class WorldView {
public:
    /// Needs a current OpenGL context. Throws std::runtime_error when a shader does not compile.
    explicit WorldView(const std::string& shader_folder);
    ~WorldView();
    WorldView(const WorldView&) = delete;
    WorldView& operator=(const WorldView&) = delete;

    /// Draws a speck of sky, sea, land and things, and forgets it: drivers make the code of a shader when something is first
    /// drawn with it, which takes a software driver 0.1 s. For the time before there is land.
    void warmUp();
    void setTerrain(std::shared_ptr<const Ground> ground);
    void setDrape(const Drape& drape);
    void setObjects(const Mesh& mesh);
    /// Things that move, where they stand now.
    void setMovers(const Mesh& mesh);
    void setSky(const WorldLight& light);

    /// Destroys every OpenGL object and makes it again from what is kept here; the next picture is the same.
    void rebuild();

    /// Draws when anything changed since the last call; true when it drew. While the camera moves a coarse grid is
    /// used; `refine` allows the fine one. The grid follows the measured time of drawing.
    bool render(const Camera& camera, int columns, int rows, bool refine);
    [[nodiscard]] unsigned texture() const { return canvas_->texture(); }
    [[nodiscard]] int grid() const { return drawn_grid_; }           ///< vertices along a side, as last drawn
    [[nodiscard]] double draw_ms() const { return draw_ms_; }        ///< time of the last drawing
    [[nodiscard]] bool refined() const { return drawn_grid_ == fine_grid_ && !dirty_; }

private:
    struct Buffers {
        unsigned array = 0, vertices = 0, triangles = 0;
        int count = 0;
        void upload(const Mesh& mesh);
        void draw() const;
        void release();
    };
    void draw(const Camera& camera, int columns, int rows, int grid);
    void ensureGrid(Buffers& buffers, int& made, int grid);

    std::string shader_folder_;
    Shader world_, sky_;
    std::unique_ptr<Canvas> canvas_;
    std::unique_ptr<Texture> drape_;
    Buffers coarse_, fine_, sea_, objects_, movers_, dome_;
    std::shared_ptr<const Ground> ground_;
    Drape drape_data_;                     // what the objects are made again from
    Mesh objects_data_, movers_data_;
    std::optional<WorldLight> light_;
    Colour haze_{128, 140, 150, 255};
    Camera camera_;
    bool software_ = true;
    bool dirty_ = true;
    bool has_drape_ = false;
    int coarse_grid_ = 128, fine_grid_ = 256;
    int coarse_made_ = 0, fine_made_ = 0;
    int drawn_grid_ = 0;
    double draw_ms_ = 0.0;
};

}  // namespace linefall
