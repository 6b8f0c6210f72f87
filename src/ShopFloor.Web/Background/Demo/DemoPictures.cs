using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Pictures for the demo, drawn by the program itself.</summary>
public sealed class DemoPictures : IUseCase
{
    /// <summary>Keeps the picture of that number.</summary>
    public Task<PictureId?> AddToAsync(CommandWork work, int number, CancellationToken cancel) => Task.FromResult<PictureId?>(null);
}
