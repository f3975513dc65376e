"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Apply."""
    op.create_table(
        "clay_body",
        sa.Column("clay_body_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=True),
        sa.Column("colour", sa.String(), nullable=True),
        sa.Column("cone_low", sa.String(), nullable=True),
        sa.Column("cone_high", sa.String(), nullable=True),
        sa.Column("absorption_pct", sa.Float(), nullable=True),
        sa.Column("shrinkage_pct", sa.Float(), nullable=True),
        sa.Column("expansion_ppm_per_k", sa.Float(), nullable=True),
        sa.Column("remark", sa.String(), nullable=True),
        sa.Column("is_retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("clay_body_id", name=op.f("pk_clay_body")),
    )
    with op.batch_alter_table("clay_body", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_clay_body_name"), ["name"], unique=True)

    op.create_table(
        "glaze",
        sa.Column("glaze_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("finish", sa.String(), nullable=True),
        sa.Column("colour", sa.String(), nullable=True),
        sa.Column("maker", sa.String(), nullable=True),
        sa.Column("cone_low", sa.String(), nullable=True),
        sa.Column("cone_high", sa.String(), nullable=True),
        sa.Column("supplied_as", sa.String(), nullable=True),
        sa.Column("food_label", sa.String(), nullable=True),
        sa.Column("remark", sa.String(), nullable=True),
        sa.Column("is_retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("glaze_id", name=op.f("pk_glaze")),
    )
    with op.batch_alter_table("glaze", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_glaze_name"), ["name"], unique=True)

    op.create_table(
        "kiln",
        sa.Column("kiln_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("remark", sa.String(), nullable=True),
        sa.PrimaryKeyConstraint("kiln_id", name=op.f("pk_kiln")),
    )
    with op.batch_alter_table("kiln", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_kiln_name"), ["name"], unique=True)

    op.create_table(
        "material",
        sa.Column("material_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("source", sa.String(), nullable=True),
        sa.Column("loss_on_ignition_pct", sa.Float(), nullable=True),
        sa.Column("remark", sa.String(), nullable=True),
        sa.PrimaryKeyConstraint("material_id", name=op.f("pk_material")),
    )
    with op.batch_alter_table("material", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_material_name"), ["name"], unique=True)

    op.create_table(
        "batch",
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("glaze_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("mixed_on", sa.Date(), nullable=True),
        sa.Column("specific_gravity", sa.Float(), nullable=True),
        sa.Column("sieve_mesh", sa.Integer(), nullable=True),
        sa.Column("dry_portion", sa.String(), nullable=True),
        sa.Column("is_revived", sa.Boolean(), nullable=True),
        sa.Column("note", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(
            ["glaze_id"], ["glaze.glaze_id"], name=op.f("fk_batch_glaze_id_glaze")
        ),
        sa.PrimaryKeyConstraint("batch_id", name=op.f("pk_batch")),
        sa.UniqueConstraint("glaze_id", "name", name=op.f("uq_batch_glaze_id_name")),
    )
    with op.batch_alter_table("batch", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_batch_glaze_id"), ["glaze_id"], unique=False)

    op.create_table(
        "firing",
        sa.Column("firing_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("kiln_id", sa.Integer(), nullable=True),
        sa.Column("fired_on", sa.Date(), nullable=True),
        sa.Column("target_cone", sa.String(), nullable=True),
        sa.Column("rate_c_per_h", sa.Float(), nullable=True),
        sa.Column("hold_min", sa.Float(), nullable=True),
        sa.Column("atmosphere", sa.String(), nullable=True),
        sa.Column("peak_c", sa.Float(), nullable=True),
        sa.Column("opened_c", sa.Float(), nullable=True),
        sa.Column("remark", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["kiln_id"], ["kiln.kiln_id"], name=op.f("fk_firing_kiln_id_kiln")),
        sa.PrimaryKeyConstraint("firing_id", name=op.f("pk_firing")),
    )
    with op.batch_alter_table("firing", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_firing_fired_on"), ["fired_on"], unique=False)
        batch_op.create_index(batch_op.f("ix_firing_kiln_id"), ["kiln_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_firing_name"), ["name"], unique=True)

    op.create_table(
        "material_oxide",
        sa.Column("material_oxide_id", sa.Integer(), nullable=False),
        sa.Column("material_id", sa.Integer(), nullable=False),
        sa.Column("oxide", sa.String(), nullable=False),
        sa.Column("weight_pct", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(
            ["material_id"],
            ["material.material_id"],
            name=op.f("fk_material_oxide_material_id_material"),
        ),
        sa.PrimaryKeyConstraint("material_oxide_id", name=op.f("pk_material_oxide")),
        sa.UniqueConstraint(
            "material_id", "oxide", name=op.f("uq_material_oxide_material_id_oxide")
        ),
    )
    with op.batch_alter_table("material_oxide", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_material_oxide_material_id"), ["material_id"], unique=False
        )

    op.create_table(
        "recipe_version",
        sa.Column("recipe_version_id", sa.Integer(), nullable=False),
        sa.Column("glaze_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(
            ["glaze_id"], ["glaze.glaze_id"], name=op.f("fk_recipe_version_glaze_id_glaze")
        ),
        sa.PrimaryKeyConstraint("recipe_version_id", name=op.f("pk_recipe_version")),
        sa.UniqueConstraint("glaze_id", "version", name=op.f("uq_recipe_version_glaze_id_version")),
    )
    with op.batch_alter_table("recipe_version", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_recipe_version_glaze_id"), ["glaze_id"], unique=False)

    op.create_table(
        "recipe_line",
        sa.Column("recipe_line_id", sa.Integer(), nullable=False),
        sa.Column("recipe_version_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("material_id", sa.Integer(), nullable=False),
        sa.Column("parts", sa.Float(), nullable=False),
        sa.Column("is_addition", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["material_id"],
            ["material.material_id"],
            name=op.f("fk_recipe_line_material_id_material"),
        ),
        sa.ForeignKeyConstraint(
            ["recipe_version_id"],
            ["recipe_version.recipe_version_id"],
            name=op.f("fk_recipe_line_recipe_version_id_recipe_version"),
        ),
        sa.PrimaryKeyConstraint("recipe_line_id", name=op.f("pk_recipe_line")),
        sa.UniqueConstraint(
            "recipe_version_id", "position", name=op.f("uq_recipe_line_recipe_version_id_position")
        ),
    )
    with op.batch_alter_table("recipe_line", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_recipe_line_material_id"), ["material_id"], unique=False
        )
        batch_op.create_index(
            batch_op.f("ix_recipe_line_recipe_version_id"), ["recipe_version_id"], unique=False
        )

    op.create_table(
        "tile",
        sa.Column("tile_id", sa.Integer(), nullable=False),
        sa.Column("mark", sa.String(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=True),
        sa.Column("glazed_on", sa.Date(), nullable=True),
        sa.Column("form", sa.String(), nullable=True),
        sa.Column("stood", sa.String(), nullable=True),
        sa.Column("clay_body_id", sa.Integer(), nullable=False),
        sa.Column("bisque_cone", sa.String(), nullable=True),
        sa.Column("bisque_firing_id", sa.Integer(), nullable=True),
        sa.Column("firing_id", sa.Integer(), nullable=True),
        sa.Column("shelf", sa.String(), nullable=True),
        sa.Column("cone_reached", sa.String(), nullable=True),
        sa.Column("note", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(
            ["bisque_firing_id"], ["firing.firing_id"], name=op.f("fk_tile_bisque_firing_id_firing")
        ),
        sa.ForeignKeyConstraint(
            ["clay_body_id"],
            ["clay_body.clay_body_id"],
            name=op.f("fk_tile_clay_body_id_clay_body"),
        ),
        sa.ForeignKeyConstraint(
            ["firing_id"], ["firing.firing_id"], name=op.f("fk_tile_firing_id_firing")
        ),
        sa.PrimaryKeyConstraint("tile_id", name=op.f("pk_tile")),
    )
    with op.batch_alter_table("tile", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_tile_bisque_firing_id"), ["bisque_firing_id"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_tile_clay_body_id"), ["clay_body_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_tile_cone_reached"), ["cone_reached"], unique=False)
        batch_op.create_index(batch_op.f("ix_tile_firing_id"), ["firing_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_tile_mark"), ["mark"], unique=True)

    op.create_table(
        "witness_cone",
        sa.Column("witness_cone_id", sa.Integer(), nullable=False),
        sa.Column("firing_id", sa.Integer(), nullable=False),
        sa.Column("shelf", sa.String(), nullable=True),
        sa.Column("cone", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["firing_id"], ["firing.firing_id"], name=op.f("fk_witness_cone_firing_id_firing")
        ),
        sa.PrimaryKeyConstraint("witness_cone_id", name=op.f("pk_witness_cone")),
        sa.UniqueConstraint("firing_id", "shelf", name=op.f("uq_witness_cone_firing_id_shelf")),
    )
    with op.batch_alter_table("witness_cone", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_witness_cone_firing_id"), ["firing_id"], unique=False)

    op.create_table(
        "area",
        sa.Column("area_id", sa.Integer(), nullable=False),
        sa.Column("tile_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("label", sa.String(), nullable=True),
        sa.Column("surface", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["tile_id"], ["tile.tile_id"], name=op.f("fk_area_tile_id_tile")),
        sa.PrimaryKeyConstraint("area_id", name=op.f("pk_area")),
        sa.UniqueConstraint("tile_id", "number", name=op.f("uq_area_tile_id_number")),
    )
    with op.batch_alter_table("area", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_area_tile_id"), ["tile_id"], unique=False)

    op.create_table(
        "inspection",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("tile_id", sa.Integer(), nullable=False),
        sa.Column("inspected_on", sa.Date(), nullable=False),
        sa.Column("note", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(
            ["tile_id"], ["tile.tile_id"], name=op.f("fk_inspection_tile_id_tile")
        ),
        sa.PrimaryKeyConstraint("inspection_id", name=op.f("pk_inspection")),
    )
    with op.batch_alter_table("inspection", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_inspection_tile_id"), ["tile_id"], unique=False)

    op.create_table(
        "photo",
        sa.Column("photo_id", sa.Integer(), nullable=False),
        sa.Column("tile_id", sa.Integer(), nullable=False),
        sa.Column("file", sa.String(), nullable=False),
        sa.Column("caption", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["tile_id"], ["tile.tile_id"], name=op.f("fk_photo_tile_id_tile")),
        sa.PrimaryKeyConstraint("photo_id", name=op.f("pk_photo")),
        sa.UniqueConstraint("tile_id", "file", name=op.f("uq_photo_tile_id_file")),
    )
    with op.batch_alter_table("photo", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_photo_tile_id"), ["tile_id"], unique=False)

    op.create_table(
        "defect",
        sa.Column("defect_id", sa.Integer(), nullable=False),
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("defect", sa.String(), nullable=False),
        sa.Column("severity", sa.String(), nullable=True),
        sa.Column("place", sa.String(), nullable=True),
        sa.Column("note", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["area_id"], ["area.area_id"], name=op.f("fk_defect_area_id_area")),
        sa.ForeignKeyConstraint(
            ["inspection_id"],
            ["inspection.inspection_id"],
            name=op.f("fk_defect_inspection_id_inspection"),
        ),
        sa.PrimaryKeyConstraint("defect_id", name=op.f("pk_defect")),
    )
    with op.batch_alter_table("defect", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_defect_area_id"), ["area_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_defect_defect"), ["defect"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_defect_inspection_id"), ["inspection_id"], unique=False
        )

    op.create_table(
        "layer",
        sa.Column("layer_id", sa.Integer(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("glaze_id", sa.Integer(), nullable=False),
        sa.Column("recipe_version_id", sa.Integer(), nullable=True),
        sa.Column("batch_id", sa.Integer(), nullable=True),
        sa.Column("coats", sa.Integer(), nullable=True),
        sa.Column("thickness_mm", sa.Float(), nullable=True),
        sa.Column("fired_thickness_mm", sa.Float(), nullable=True),
        sa.Column("method", sa.String(), nullable=True),
        sa.Column("applied_on", sa.String(), nullable=True),
        sa.Column("beneath", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["area_id"], ["area.area_id"], name=op.f("fk_layer_area_id_area")),
        sa.ForeignKeyConstraint(
            ["batch_id"], ["batch.batch_id"], name=op.f("fk_layer_batch_id_batch")
        ),
        sa.ForeignKeyConstraint(
            ["glaze_id"], ["glaze.glaze_id"], name=op.f("fk_layer_glaze_id_glaze")
        ),
        sa.ForeignKeyConstraint(
            ["recipe_version_id"],
            ["recipe_version.recipe_version_id"],
            name=op.f("fk_layer_recipe_version_id_recipe_version"),
        ),
        sa.PrimaryKeyConstraint("layer_id", name=op.f("pk_layer")),
        sa.UniqueConstraint("area_id", "position", name=op.f("uq_layer_area_id_position")),
    )
    with op.batch_alter_table("layer", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_layer_area_id"), ["area_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_layer_batch_id"), ["batch_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_layer_glaze_id"), ["glaze_id"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_layer_recipe_version_id"), ["recipe_version_id"], unique=False
        )

    op.create_table(
        "tile_clue",
        sa.Column("tile_clue_id", sa.Integer(), nullable=False),
        sa.Column("tile_id", sa.Integer(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("clue", sa.String(), nullable=False),
        sa.Column("answer", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["area_id"], ["area.area_id"], name=op.f("fk_tile_clue_area_id_area")
        ),
        sa.ForeignKeyConstraint(
            ["tile_id"], ["tile.tile_id"], name=op.f("fk_tile_clue_tile_id_tile")
        ),
        sa.PrimaryKeyConstraint("tile_clue_id", name=op.f("pk_tile_clue")),
        sa.UniqueConstraint(
            "tile_id", "area_id", "clue", name=op.f("uq_tile_clue_tile_id_area_id_clue")
        ),
    )
    with op.batch_alter_table("tile_clue", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_tile_clue_area_id"), ["area_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_tile_clue_tile_id"), ["tile_id"], unique=False)
