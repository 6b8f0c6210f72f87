using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopFloor.Data.Migrations
{
    /// <inheritdoc />
    public partial class OrderChanges : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<long>(
                name: "ChangedAt",
                table: "Orders",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0L);
            migrationBuilder.Sql("UPDATE \"Orders\" SET \"ChangedAt\" = \"BookedAt\"");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_ChangedAt",
                table: "Orders",
                column: "ChangedAt");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Orders_ChangedAt",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "ChangedAt",
                table: "Orders");
        }
    }
}
