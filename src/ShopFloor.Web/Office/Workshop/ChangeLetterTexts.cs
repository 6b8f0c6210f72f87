using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Changes the owner's words on letters. Papers that were issued keep theirs.</summary>
public sealed class ChangeLetterTexts(CommandRunner runner) : IUseCase
{
    /// <summary>Changes them, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, LetterTexts texts, CancellationToken cancel = default) =>
        runner.RunAsync<LetterTexts, Done>(
            nameof(ChangeLetterTexts),
            Allowed.Owner,
            asked,
            texts,
            async work =>
            {
                var faults = texts.Check();
                if (faults.Count > 0)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.LetterTexts, texts, cancel);
                return default(Done);
            },
            cancel
        );
}
