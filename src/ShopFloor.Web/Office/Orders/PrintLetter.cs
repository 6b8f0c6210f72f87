using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Which letter was printed.</summary>
public sealed record LetterWish(int Order, OrderLetterKind Kind);

/// <summary>Writes down that a letter about an order was printed.</summary>
public sealed class PrintLetter(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, LetterWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<LetterWish, Done>(
            nameof(PrintLetter),
            Allowed.Owner,
            asked,
            wish,
            work =>
            {
                work.Audit("letter printed", string.Create(CultureInfo.InvariantCulture, $"order {wish.Order}"), "", wish.Kind.ToString());
                return Task.FromResult(Result<Done>.Ok(default));
            },
            cancel
        );
}
